"""The project's own shape: what lies at the top, and what must not stand in any file."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

TOP = {
    *(".ci", ".gitignore", "CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "Makefile", "README.md"),
    *("bot", "constraints.txt", "deploy", "pyproject.toml", "storage", "tests"),
}
#: A folder of one machine, or a package registry's host. A letter in brackets keeps this file clean.
STRAY = re.compile(
    r"/wor[k]/|/roo[t]/|/hom[e]/\w+/|/tm[p]/plan|pyp[i]\.org|pythonhoste[d]|npmj[s]\.|registry\.np[m]|"
    r"crate[s]\.io|--index-ur[l]|--extra-inde[x]",
    re.IGNORECASE,
)
SECRET = re.compile(r"\b\d{8,10}:AA[A-Za-z0-9_-]{33}\b")


@pytest.fixture(scope="module")
def tracked():
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=False)
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in listed.stdout.decode().split("\0") if name and (ROOT / name).exists()]


def test_the_top_level_holds_what_it_should(tracked):
    assert {path.relative_to(ROOT).parts[0] for path in tracked} <= TOP


def test_no_file_names_a_folder_of_this_machine_or_a_registry(tracked):
    stray = []
    for path in tracked:
        text = path.read_bytes().decode("utf-8", errors="replace")
        for number, line in enumerate(text.splitlines(), 1):
            if STRAY.search(line):
                stray.append(f"{path.relative_to(ROOT)}:{number}: {line.strip()[:80]}")
    assert stray == []


def test_no_file_holds_a_token(tracked):
    holders = [p.name for p in tracked if SECRET.search(p.read_bytes().decode("utf-8", errors="replace"))]
    assert holders == []


def test_the_patterns_would_find_what_they_look_for():
    assert STRAY.search("see /" + "work/notes") is not None
    assert STRAY.search("https://py" + "pi.org/simple") is not None
    assert SECRET.search("123456789:AA" + "x" * 33) is not None


def test_every_dependency_has_a_lower_bound_and_an_exact_version():
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"]
    wanted = [*project["dependencies"], *extras["dev"], *extras["audit"]]
    pinned = {
        line.split("==")[0].lower().replace("_", "-")
        for line in (ROOT / "constraints.txt").read_text("utf-8").splitlines()
        if "==" in line
    }
    names = {re.split(r"[\[<>=! ]", requirement)[0].lower().replace("_", "-") for requirement in wanted}
    assert names - pinned == set()
    assert [requirement for requirement in wanted if ">=" not in requirement] == []


def _canonical(name):
    return re.sub(r"[-_.]+", "-", name).lower()


def test_the_exact_versions_satisfy_each_other_and_leave_nothing_unpinned():
    """A package updated by hand, or one that another needs and nobody pinned, fails here first."""
    import tomllib
    from importlib import metadata

    from packaging.requirements import Requirement

    pins = dict(
        line.split("==")
        for line in (ROOT / "constraints.txt").read_text("utf-8").splitlines()
        if "==" in line and not line.startswith("#")
    )
    pinned = {_canonical(name): version for name, version in pins.items()}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    open_ends = [Requirement(r) for r in (*project["dependencies"], *project["optional-dependencies"]["dev"])]
    seen, faults = set(), []
    while open_ends:
        wanted = open_ends.pop()
        name = _canonical(wanted.name)
        if name not in pinned:
            faults.append(f"{name} is not pinned")
            continue
        if not wanted.specifier.contains(pinned[name], prereleases=True):
            faults.append(f"{name}=={pinned[name]} is not {wanted.specifier}")
        if (name, tuple(sorted(wanted.extras))) in seen:
            continue
        seen.add((name, tuple(sorted(wanted.extras))))
        for line in metadata.requires(name) or ():
            needed = Requirement(line)
            if any(_applies(needed, extra) for extra in ("", *wanted.extras)):
                open_ends.append(needed)
    assert sorted(set(faults)) == []


def _applies(needed, extra):
    return needed.marker is None or needed.marker.evaluate({"extra": extra})
