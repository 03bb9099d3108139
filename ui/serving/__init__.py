"""The server of the dashboard: address, door and end."""
