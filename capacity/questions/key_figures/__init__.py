"""What a plan comes to in a page of figures for management; no solver is asked."""
