"""What the screens show, as plain frozen data made from the cook's state. No Textual here."""
