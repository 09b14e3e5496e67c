"""What the screens are made of: widgets that draw their own lines."""
