"""The languages of the screens: a folder for each, with its texts as gettext keeps them."""
