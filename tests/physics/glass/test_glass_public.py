"""The package's public names."""

import importlib
import subprocess
import sys

import reportkit.physics.glass


def test_every_public_name_exists() -> None:
    """`__all__` is sorted by kind, complete and importable."""
    names = reportkit.physics.glass.__all__
    assert len(names) == len(set(names))
    for name in names:
        assert getattr(reportkit.physics.glass, name).__doc__ or isinstance(
            getattr(reportkit.physics.glass, name), dict | tuple
        )


def test_importing_the_package_stays_light() -> None:
    """Neither pandas, pvlib nor scipy is loaded by importing it."""
    code = "import sys, reportkit.physics.glass; "
    code += "print([m for m in ('pandas', 'pvlib', 'scipy') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_examples_in_the_docstrings_run() -> None:
    """Every docstring example of the package gives what it says."""
    import doctest

    tried = 0
    for name in ["bands", "surface", "lite", "angular", "optics", "heat", "rating", "edge", "cie"]:
        result = doctest.testmod(importlib.import_module(f"reportkit.physics.glass.{name}"))
        assert result.failed == 0
        tried += result.attempted
    assert tried >= 10
