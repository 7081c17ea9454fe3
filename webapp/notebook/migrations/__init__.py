"""The steps from one form of the database to the next; they are never edited once they are out."""
