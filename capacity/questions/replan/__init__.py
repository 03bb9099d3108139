"""A plan that has begun, made again with news."""
