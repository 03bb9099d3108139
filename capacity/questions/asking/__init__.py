"""What every question needs: the plan it speaks of, short searches, places and differences."""
