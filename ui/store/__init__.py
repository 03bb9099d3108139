"""The plan store on the dashboard."""
