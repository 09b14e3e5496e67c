"""The cook's own choices about the sound: how loud, spoken or not, and which cues stay silent."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from passbell.cook.cue import HARM_ORDER
from passbell.files import read_small
from passbell.sound.softer import LOUDEST, SHARES
from passbell.units import clean_text

LARGEST = 20_000
"""The largest settings file that is read, in bytes."""

SOON = "soon"
"""Stands among the silent for every sound that only says what comes soon."""

MAY_BE_SILENT = (*(kind for kind in HARM_ORDER if kind not in {"probe", "check"}), SOON)
"""What may be silenced: a probe and a check always sound, and so does whatever is late."""


@dataclass(frozen=True, slots=True)
class SoundChoices:
    """What the cook has chosen.

    Attributes:
        volume: from 1, soft, to 4.
        speak: whether the line of Now is spoken after its sound.
        silent: kinds of cue that make no sound until they are late, and "soon".
    """

    volume: int = LOUDEST
    speak: bool = False
    silent: frozenset[str] = frozenset()


def load_choices(path: Path) -> tuple[SoundChoices, str]:
    """The choices in a settings file, and what is wrong with it in one line; empty: nothing.

    The file is TOML: `volume = 3`, `speak = true`, `silent = ["call", "soon"]`. A file with a
    fault changes nothing.

    Args:
        path: the settings file; it need not exist.
    """
    try:
        data = read_small(path, LARGEST)
        if len(data) > LARGEST:
            return _as_it_comes(path, "it is larger than any settings; cut it down")
        return _read(tomllib.loads(data.decode("utf-8"))), ""
    except FileNotFoundError:
        return SoundChoices(), ""
    except OSError as error:
        return _as_it_comes(path, error.strerror or str(error))
    except ValueError as error:
        return _as_it_comes(path, str(error))
    except RecursionError:
        return _as_it_comes(path, "lists and tables are nested too deep")


def _as_it_comes(path: Path, fault: str) -> tuple[SoundChoices, str]:
    return SoundChoices(), clean_text(f"{path.name}: {fault}; the sound is as it comes.")


def _read(settings: Mapping[str, object]) -> SoundChoices:
    unknown = set(settings) - {"volume", "speak", "silent"}
    if unknown:
        raise ValueError(f"there is no setting {clean_text(min(unknown), 30)!r}")
    volume, speak = settings.get("volume", LOUDEST), settings.get("speak", False)
    if type(volume) is not int or volume not in SHARES:
        raise ValueError(f"volume is a number from 1, soft, to {LOUDEST}")
    if not isinstance(speak, bool):
        raise ValueError("speak is true or false")  # noqa: TRY004 - a fault of the file
    return SoundChoices(volume, speak, _silent(settings.get("silent", [])))


def _silent(listed: object) -> frozenset[str]:
    if not isinstance(listed, list):
        raise ValueError('silent is a list, such as ["call", "soon"]')  # noqa: TRY004 - as above
    for word in listed:
        if word in ("probe", "check", "late"):
            raise ValueError(f"{word} always sounds and cannot be silent")
        if word not in MAY_BE_SILENT:
            raise ValueError(
                f"silent may hold {', '.join(MAY_BE_SILENT)}, not {clean_text(str(word), 30)!r}"
            )
    return frozenset(listed)
