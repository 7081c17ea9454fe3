"""The appraisal engine: a pack and findings in, an appraisal out. No files, no clock, no pages.

Its twin in `static/js/kernel/` has the same modules and functions.
"""
