"""What every refusal of the program says: what is wrong, and how to mend it."""


class MendableError(ValueError):
    """Something that cannot be done or understood as it is.

    Args:
        what: what is wrong, as a sentence without its full stop.
        mend: what to do or write instead, as a sentence without its full stop.
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what}; {mend}")
        self.what = what
        self.mend = mend
