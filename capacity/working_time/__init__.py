"""Working-time rules as data with their source, and what a roster with overtime makes of them.

Everything here is told as caution: local law, collective agreements and the organisation's own
fatigue procedures go before it.
"""
