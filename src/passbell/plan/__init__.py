"""The plan file: its model, reading it with good errors, writing it so that comments stay."""
