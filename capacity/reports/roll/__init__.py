"""What rolling forward did, in words, and the files that it writes."""
