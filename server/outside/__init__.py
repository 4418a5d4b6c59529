"""What comes in from outside and goes out again: files, photos, feeds, mail."""
