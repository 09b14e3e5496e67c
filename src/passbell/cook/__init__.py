"""The cook: commands in, events out, state as a fold of events; pure, the clock handed in."""
