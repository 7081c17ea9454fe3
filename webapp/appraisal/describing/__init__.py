"""A found set described for a stranger, sentence by sentence, each with the findings that it tells of."""
