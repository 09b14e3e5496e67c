"""The full-screen dashboard: views (what is shown, plain data), widgets and screens."""

import os

# How many milliseconds an Esc waits for the rest of a code, read by Textual as it is loaded; its
# own 100 is a delay one feels, and a terminal sends a code at once. Who set it knows better.
os.environ.setdefault("ESCDELAY", "30")
