"""Aircraft asked about: slots, break-even prices, moves and combinations."""
