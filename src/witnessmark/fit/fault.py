"""What cannot be fitted as it was asked."""


class FitFault(ValueError):
    """An empty shelf, a size below nothing, one name twice: the message says what and what to do."""
