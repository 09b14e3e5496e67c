"""What the interpreter itself says a program does: files opened, programs started, the network.

Put into `sitecustomize.py`, it watches every Python process of a tree, the sound process too
(PEP 578, audit hooks); what it saw is added to the file named in WATCHED.
"""

import os
import shutil
from pathlib import Path

SITE = """
import os, sys
OUT = os.open(os.environ["WATCHED"], os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
NAMED = ("subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.startfile")
FLAGS = os.O_WRONLY | os.O_RDWR

def hook(event, args):
    if event == "socket.__new__":
        told = f"{event} {int(args[1])}"
    elif event.startswith(("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser")):
        told = f"{event} {args[1:]!r}"
    elif event in NAMED:
        told = f"{event} {args[:2]!r}"
    elif event == "open" and isinstance(args[0], str):
        told = f"{'write' if args[2] & FLAGS else 'read'} {args[0]!r}"
    elif event in ("os.remove", "os.rename", "os.mkdir", "os.link", "os.symlink", "os.chmod"):
        told = f"{event} {args[0]!r}"
    else:
        return
    os.write(OUT, f"{told}\\n".encode("utf-8", "backslashreplace"))

sys.addaudithook(hook)
"""


def watched(folder: Path) -> tuple[dict[str, str], Path]:
    """The environment in which every Python is watched, and the file that tells.

    Args:
        folder: an empty one for the watcher.
    """
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(SITE, encoding="utf-8")
    path = os.pathsep.join(filter(None, (str(folder), os.environ.get("PYTHONPATH", ""))))
    told = folder / "told"
    return {"PYTHONPATH": path, "WATCHED": str(told), "PYTHONDONTWRITEBYTECODE": "1"}, told
