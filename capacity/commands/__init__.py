"""What the command ``capacity`` can be asked, a file a question; all the work is elsewhere."""
