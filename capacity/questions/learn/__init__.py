"""What delivered checks teach about findings, days and man-hours."""
