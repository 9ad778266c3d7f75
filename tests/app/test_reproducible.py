"""The same inputs and versions give the same bytes wherever and by whomever they are run, and do not tell."""

import io
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest
from small_job import written

import reportkit

JOBS = Path(__file__).parents[2] / "jobs"

#: A folder, a person and a machine that nothing else is called; the second folder has letters of many kinds.
FOLDERS = ("plain", "zqxjk façade ñandú 'ß' Ж 窓 100% [a]")
PERSON, MACHINE = "wunderkind77", "wunderhost77"

#: Surroundings that must not matter: zone, locale, seed, home, what libraries pick by the processor.
SURROUNDINGS = (
    {"TZ": "UTC", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "0"},
    {
        "TZ": "Asia/Kathmandu",
        "LC_ALL": "tr_TR.UTF-8",  # where i and I are two letters
        "PYTHONHASHSEED": "4711",
        "USER": PERSON,
        "LOGNAME": PERSON,
        "HOME": f"/dev/null/{PERSON}",
        "OPENBLAS_CORETYPE": "Prescott",
        "NPY_DISABLE_CPU_FEATURES": "AVX2 FMA3 AVX512F",
        "MATPLOTLIBRC": str(Path(__file__).with_name("matplotlibrc")),
    },
)
UMASKS = (0o022, 0o077)


def _on_another_machine(command):
    """Return a command as a machine of another name would run it, where that can be had (unshare(1))."""
    asked = ["unshare", "--uts", "sh", "-c", f'hostname {MACHINE} && exec "$@"', "sh"]
    tried = (
        subprocess.run([*asked, "true"], check=False, capture_output=True)
        if shutil.which("unshare")
        else None
    )
    return [*asked, *command] if tried and not tried.returncode else command


def _turkish(where):
    """Compile the C library's Turkish locale into a folder, and return what leads to it."""
    if shutil.which("localedef") is None:
        return {}
    asked = ["localedef", "-i", "tr_TR", "-f", "UTF-8", str(where / "tr_TR.UTF-8")]
    subprocess.run(asked, check=False, capture_output=True)
    look = {"LOCPATH": str(where), "LC_ALL": "tr_TR.UTF-8"}
    code = "import locale; locale.setlocale(locale.LC_ALL, '')"
    known = subprocess.run(
        [sys.executable, "-c", code], env={**os.environ, **look}, check=False, capture_output=True
    )
    return {} if known.returncode else look


@pytest.fixture(scope="module")
def runs(tmp_path_factory):
    """Return two runs of one job, each in surroundings of its own."""
    made = []
    for folder, more, umask in zip(FOLDERS, SURROUNDINGS, UMASKS, strict=True):
        home = tmp_path_factory.mktemp("same") / folder
        shutil.copytree(JOBS / "_shared", home / "_shared")
        job = shutil.copytree(JOBS / "hill-studio", home / folder, ignore=shutil.ignore_patterns("runs"))
        command = [sys.executable, "-m", "reportkit", "make", str(job)]
        turkish = _turkish(tmp_path_factory.mktemp("locale")) if "tr_TR" in more["LC_ALL"] else {}
        ended = subprocess.run(
            _on_another_machine(command) if made else command,
            env={**os.environ, "SOURCE_DATE_EPOCH": "1772443800", **more, **turkish},
            umask=umask,
            capture_output=True,
            check=False,
        )
        assert ended.returncode == 0, ended.stderr.decode("utf-8", "replace")
        made.append(job / "runs" / "0001")
    return made


def test_every_file_has_the_same_bytes(runs):
    """Results, documents, notebook, manifest, sums: all of it."""
    one, two = ({path.relative_to(run): path for path in run.rglob("*") if path.is_file()} for run in runs)
    assert set(one) == set(two) and len(one) > 15
    differ = [str(name) for name in one if one[name].read_bytes() != two[name].read_bytes()]
    assert differ == []


def _unpacked(path):
    """Return the bytes of a file; of a PDF also those of every stream and attachment, unpacked."""
    data = path.read_bytes()
    if path.suffix != ".pdf":
        return data
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as file:
        file.save(out, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized)
        attached = [file.attachments[name].get_file().read_bytes() for name in file.attachments]
    return b"\n".join([data, out.getvalue(), *attached])


def test_no_file_tells_where_or_by_whom_it_was_made(runs):
    """No folder, person, machine or place of the program, however it is spelled; no output on the side."""
    secrets = [
        "zqxjk",
        PERSON,
        MACHINE,
        ".making-",
        "/tmp/",
        str(Path(reportkit.__file__).parent),
        sys.prefix,
    ]
    for path in runs[1].rglob("*"):
        if path.is_file():
            data = _unpacked(path)
            for secret in secrets:
                assert secret.encode() not in data, (path.name, secret)
                assert secret.encode("utf-16-be") not in data, (path.name, secret)
    assert b'"output_type": "stream"' not in (runs[1] / "reasoning.ipynb").read_bytes()


def test_the_versions_are_requirements_for_pip(runs):
    """Every line pins one package that is installed in that version; those that compute are among them."""
    from importlib.metadata import version

    lines = (runs[0] / "versions.txt").read_text("utf-8").splitlines()
    pinned = dict(line.split("==") for line in lines if not line.startswith("#"))
    assert {"numpy", "pvlib", "typst", "matplotlib", "pydantic"} <= set(pinned)
    assert "reportkit" not in pinned
    assert all(version(name) == told for name, told in pinned.items())
    assert f"Python {sys.version.split()[0]}." in lines[0]


#: What a machine may be like; None takes a variable away. With those above, five seeds of Python's hashes.
MACHINES = {
    "plain": {"PYTHONHASHSEED": "1", "LC_ALL": "C.UTF-8", "TZ": "UTC"},
    "without a home": {"PYTHONHASHSEED": "2", "LC_ALL": "C", "HOME": None, "TZ": "America/St_Johns"},
    "nowhere to keep anything": {
        "PYTHONHASHSEED": "3",
        "PYTHONDONTWRITEBYTECODE": "1",
        **dict.fromkeys(("HOME", "MPLCONFIGDIR", "IPYTHONDIR"), "/dev/null/nowhere"),
        **dict.fromkeys(("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"), "/dev/null/nowhere"),
        **{f"JUPYTER_{part}_DIR": "/dev/null/nowhere" for part in ("CONFIG", "DATA", "RUNTIME")},
    },
    "of no language": {
        "PYTHONHASHSEED": "4",
        "LC_ALL": "xx_XX.UTF-8",
        "PYTHONUTF8": "0",
        "TZ": "Nowhere/None",
    },
}


def test_an_odd_machine_makes_the_same_bytes(tmp_path):
    """Zones, no home, no caches, no language: the small job is the same; nothing stays."""
    made = {}
    for name, odd in MACHINES.items():
        job = tmp_path / name / "job"
        temporary = tmp_path / name / "temporary"
        job.mkdir(parents=True)
        temporary.mkdir()
        surroundings = {**os.environ, "SOURCE_DATE_EPOCH": "1772443800", "TMPDIR": str(temporary), **odd}
        ended = subprocess.run(
            [sys.executable, "-m", "reportkit", "make", "--only", "pdf", str(written(job))],
            env={key: value for key, value in surroundings.items() if value is not None},
            capture_output=True,
            check=False,
        )
        assert ended.returncode == 0, (name, ended.stderr.decode("utf-8", "replace"))
        run = job / "runs" / "0001"
        made[name] = {path.relative_to(run): path.read_bytes() for path in run.rglob("*") if path.is_file()}
        assert list(temporary.iterdir()) == [], name
    plain = made.pop("plain")
    assert len(plain) > 10
    for name, files in made.items():
        assert set(files) == set(plain), name
        assert [str(path) for path in plain if files[path] != plain[path]] == [], name
