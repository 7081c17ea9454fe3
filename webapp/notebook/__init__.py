"""What is kept. Knows nothing of pages or of the engine's inside."""
