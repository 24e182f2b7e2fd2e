"""What the keeper wants of the bot beside the journal: newcomers, settings, schedules, days away."""
