"""Reads, checks and compiles the rule tables. Knows nothing of pages or storage."""
