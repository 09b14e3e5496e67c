"""The command: one thin module a subcommand."""
