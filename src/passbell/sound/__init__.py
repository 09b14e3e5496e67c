"""The bell: when it rings, the process that plays it, and the board the session works it by.

Nothing is imported here: the sound process starts through this package, and what it does not
load cannot delay an alarm.
"""
