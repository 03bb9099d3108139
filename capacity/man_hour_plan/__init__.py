"""The man-hour plan: man-hours there are against those needed, by calendar month and function."""
