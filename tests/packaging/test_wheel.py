"""The package, built as it is published and installed where nothing else is, works elsewhere."""

import os
import re
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

import passbell

ROOT = Path(__file__).parents[2]
SKIPPED = shutil.ignore_patterns("__pycache__", "*.egg-info", "bench")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with the source archive and the wheel that was built from it."""
    copy = tmp_path_factory.mktemp("source")
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy2(ROOT / name, copy)
    for name in ("src", "plans", "sounds"):
        shutil.copytree(ROOT / name, copy / name, ignore=SKIPPED)
    (copy / "tests").mkdir()
    out = tmp_path_factory.mktemp("dist")
    build = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(out), str(copy)]
    subprocess.run(build, check=True, capture_output=True, text=True)
    return out


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A fresh environment with the wheel and what it asks for, nothing else."""
    folder = tmp_path_factory.mktemp("environment") / "venv"
    venv.create(folder, with_pip=False, symlinks=True)
    (wheel,) = built.glob("*.whl")
    install = ["--python", str(folder), "install", "-q", "--no-warn-script-location", str(wheel)]
    subprocess.run([sys.executable, "-m", "pip", *install], check=True, capture_output=True)
    return folder


def run(installed: Path, elsewhere: Path, *command: str) -> subprocess.CompletedProcess[str]:
    kept = ("PATH", "HOME", "LANG", "TERM")
    environment = {name: os.environ[name] for name in kept if name in os.environ}
    return subprocess.run(
        [str(installed / "bin" / command[0]), *command[1:]],
        cwd=elsewhere,
        env=environment | {"PASSBELL_HOME": str(elsewhere / "home")},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def data(folder: str, kind: str) -> set[str]:
    return {path.name for path in (ROOT / folder).glob(kind)}


def test_the_wheel_holds_the_program_the_plans_and_the_sounds(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    source = {
        str(path.relative_to(ROOT / "src"))
        for path in (ROOT / "src" / "passbell").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert source <= names
    for folder, kind in (("plans", "*.toml"), ("sounds", "*.wav")):
        there = {name.rpartition("/")[2] for name in names if f"data/{folder}/" in name}
        assert data(folder, kind) <= there
        assert data(folder, kind)
    assert {name.split("/")[0] for name in names} == {
        "passbell",
        f"passbell-{passbell.__version__}.dist-info",
    }


def test_the_source_archive_holds_what_a_wheel_is_built_from(built: Path) -> None:
    (archive,) = built.glob("*.tar.gz")
    with tarfile.open(archive) as opened:
        names = {name.partition("/")[2].split("/")[0] for name in opened.getnames()}
    assert {"src", "plans", "sounds", "pyproject.toml", "README.md"} <= names


def test_the_installed_command_says_its_version(installed: Path, tmp_path: Path) -> None:
    done = run(installed, tmp_path, "passbell", "--version")
    assert (done.returncode, done.stdout) == (0, f"passbell {passbell.__version__}\n")


def test_the_installed_command_judges_a_reading(installed: Path, tmp_path: Path) -> None:
    done = run(installed, tmp_path, "passbell", "probe", "pork_whole", "147F", "149F")
    assert (done.returncode, done.stderr) == (0, "")


def test_the_installed_command_finds_the_plans(installed: Path, tmp_path: Path) -> None:
    for plan in data("plans", "*.toml"):
        done = run(installed, tmp_path, "passbell", "check", plan.removesuffix(".toml"))
        assert (done.returncode, done.stderr) == (0, ""), plan


def test_the_installed_program_finds_its_sounds(installed: Path, tmp_path: Path) -> None:
    code = "from passbell.sound.folders import own_sounds; print(own_sounds())"
    done = run(installed, tmp_path, "python", "-c", code)
    folder = Path(done.stdout.strip())
    assert folder.is_relative_to(installed)
    assert {path.name for path in folder.glob("*.wav")} == data("sounds", "*.wav")


def test_nothing_but_what_is_declared_is_needed(installed: Path, tmp_path: Path) -> None:
    code = """
import importlib, pkgutil, passbell
for module in pkgutil.walk_packages(passbell.__path__, "passbell."):
    if not module.name.endswith(".child"):
        importlib.import_module(module.name)
        print(module.name)
"""
    done = run(installed, tmp_path, "python", "-c", code)
    assert (done.returncode, done.stderr) == (0, "")
    assert len(re.findall(r"^passbell\.", done.stdout, re.MULTILINE)) > 50
