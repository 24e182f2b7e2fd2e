"""The Telegram front end: updates in, requests out; no husbandry."""
