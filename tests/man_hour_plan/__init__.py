"""The man-hour plan by calendar month and function."""
