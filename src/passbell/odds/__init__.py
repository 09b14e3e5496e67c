"""How likely a meal is on time: whole cooks with drawn durations, run through the engine."""
