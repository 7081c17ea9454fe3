"""Underchassis: appraises a found surplus radio set on the spot."""

__version__ = "0.1.0"
