"""Photos of the invented sets, rendered by a small ray-caster of our own, each with its truth beside it."""
