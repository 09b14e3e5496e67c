"""Where sounds lie: the cook's own, and those that ship."""

import os
from pathlib import Path

import platformdirs

import passbell

_PACKAGE = Path(passbell.__file__).parent


def own_sounds() -> Path:
    """The folder of the sounds that ship: inside the package, in a checkout beside its source."""
    packed = _PACKAGE / "data" / "sounds"
    return packed if packed.is_dir() else _PACKAGE.parent.parent / "sounds"


def users_sounds() -> Path:
    """Where the cook may put sounds of her own, each named like the one it replaces.

    `sounds` in the folder of her settings; it need not exist.
    """
    return users_settings() / "sounds"


def users_settings() -> Path:
    """Where the cook's settings lie: PASSBELL_HOME, or the platform's folder for settings."""
    named = os.environ.get("PASSBELL_HOME")
    return Path(named).expanduser() if named else platformdirs.user_config_path("passbell")
