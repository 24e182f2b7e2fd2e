"""What the keeper wants done later: reminders, and feeding prompts paused or gone on with."""
