"""What a message tells as a whole: clauses as drafts with their doubts, settled to entries or a question."""
