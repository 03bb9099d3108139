"""Parts of pages: each draws one thing and leaves all decisions to the functions it calls."""
