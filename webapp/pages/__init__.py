"""Turns engine results into what people read, and answers the pages that are not static."""
