"""What a person asks of a plan once it stands."""
