"""Photos: taking them in, reading labels in them, measuring in them. Knows nothing of storage and pages."""
