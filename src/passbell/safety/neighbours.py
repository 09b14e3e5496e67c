"""What is said of food that was taken off a tray before the raw meat on it was done."""

TOUCHED = "touched raw meat: back on the heat"
"""What the record says of food taken out all the same."""
