"""The entry before taken back or changed, and an entry on record put right."""
