"""What README.md, DEVELOPERS.md and jobs/README.md name is there: files, modules, names in them, headings."""

import ast
import importlib.util
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
GUIDES = ("README.md", "DEVELOPERS.md", "jobs/README.md")

#: Where a short path may start: the recipes name modules from the package's folder.
HOMES = (ROOT, ROOT / "reportkit", ROOT / "jobs")

#: What a run, a job or an installation makes, so that a fresh checkout has none of it.
MADE = {
    "proposal.html", "proposal.pdf", "basis.html", "basis.pdf", "letters.pdf", "fitting.html", "fitting.pdf",
    "labels.pdf", "review.html", "review.pdf",
    "reasoning.ipynb", "results.json", "manifest.json", "fitting.ics", "consultation.ipynb", "windows.xlsx",
    "job.xlsx", "job.yaml.former",
    "decisions.yaml", "job.yaml", "windows.csv", "readings.csv", "films.yaml", "glazings.yaml", "prices.yaml",
    "batch/batch.html", "JOBS_DIR/batch", "batch.html", "jobs.csv", "rooms.csv", "rooms.parquet",
    "inputs/", "runs/", "runs/.failed.ipynb", "pieces.csv",
}  # fmt: skip

#: A path: it has a folder in it and ends as one, or it ends as a file does.
PATH = re.compile(
    r"\.?[\w.-]+(?:/[\w.-]+)+/?|[\w-]+/|[\w-]+\.(?:py|md|yaml|toml|csv|ipynb|svg|html|pdf|json|js)"
)


def text_of(guide):
    """Return a guide's text."""
    return (ROOT / guide).read_text("utf-8")


def quoted(text):
    """Return what stands in backticks outside of blocks and of the generated tables of fields."""
    text = re.sub(r"```.*?```", "", text, flags=re.DOTALL)
    text = re.sub(r"<!-- fields: .*?<!-- end -->", "", text, flags=re.DOTALL)
    return re.findall(r"`([^`\n]+)`", text)


def paths(text):
    """Return the paths among what is quoted."""
    return {one for one in quoted(text) if PATH.fullmatch(one) and one not in MADE}


def slugs(text):
    """Return the anchors of a guide's headings, as forges make them."""
    heads = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    return {re.sub(r"[^\w -]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("guide", GUIDES)
def test_every_path_named_is_there(guide):
    """A path in backticks leads to a file or folder, from the checkout, the package or the jobs."""
    named = paths(text_of(guide))
    missing = sorted(
        path
        for path in named
        if not path.startswith("jobs/my-job") and not any((home / path).exists() for home in HOMES)
    )
    assert missing == []


def test_every_link_leads_somewhere():
    """A link to a file leads to one that is there, and one to a heading to a heading."""
    links = [(guide, to) for guide in GUIDES for to in re.findall(r"\]\(([^)\s]+)\)", text_of(guide))]
    assert len(links) > 5
    for guide, target in links:
        file, _, anchor = target.partition("#")
        there = (ROOT / guide).parent / file if file else ROOT / guide
        assert there.exists(), (guide, target)
        if anchor:
            assert anchor in slugs(there.read_text("utf-8")), (guide, target)


def test_every_name_in_the_recipes_is_in_its_module():
    """Where DEVELOPERS.md writes `NAME` in `module.py`, or `module.NAME`, the module has that name."""
    text = text_of("DEVELOPERS.md")
    pairs = re.findall(r"`(\w+)`(?: of| in) `([\w/]+\.py)`", text)
    assert len(pairs) > 15
    for name, module in pairs:
        tree = ast.parse((ROOT / "reportkit" / module).read_text("utf-8"))
        assert name in defined(tree), f"{name} in {module}"


def defined(tree):
    """Return the names that a module's top gives a meaning."""
    found = set()
    for node in tree.body:
        if isinstance(node, ast.Assign):
            found |= {target.id for target in node.targets if isinstance(target, ast.Name)}
        elif isinstance(node, ast.AnnAssign):
            found.add(node.target.id)
        elif hasattr(node, "name"):
            found.add(node.name)
    return found


def test_every_module_of_a_command_can_be_found():
    """What a command imports or runs with -m is a module of this package."""
    text = "\n".join(map(text_of, GUIDES))
    named = re.findall(r"(?:-m|from|import) (reportkit[\w.]*)", text)
    assert named
    for module in named:
        assert importlib.util.find_spec(module), module


def test_the_readme_is_short():
    """A stranger reads it in one go: 150 lines at most."""
    assert len(text_of("README.md").splitlines()) <= 150
