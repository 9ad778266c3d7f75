"""The table of many jobs: a row for each, its state, price, last run and what is missing; no job stops it."""

import datetime as dt
import json

import pytest
from issued import issue
from small_job import laid, written

from reportkit.app.command_line import main
from reportkit.app.jobs import printed, table

TODAY = dt.date(2026, 3, 20)
SENT = {"status": {"offered": [{"date": "2026-03-04", "run": "1"}]}}
ACCEPTED = laid(SENT, {"status": {"accepted": {"date": "2026-03-10"}}})


def job(home, name, *changes, runs=0):
    """Write a job below a folder; as many runs are of the job before the changes."""
    folder = home / name
    folder.mkdir(parents=True)
    written(folder)
    for number in range(1, runs + 1):
        issue(folder, number)
    return written(folder, *changes)


def row(folder, today=TODAY):
    """Return the only row of a folder."""
    (found,) = table(folder, today=today)
    return found


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A job with one run."""
    return job(tmp_path_factory.mktemp("made"), "made", runs=1)


#: The glass of the small job is asked about.
ASKED = "1 letter to be answered"

#: What the status tells | the state | since | what is missing.
STATES = [
    ({}, "surveyed", "—", f"not sent; {ASKED}"),
    (
        {"survey": {"measured_on": "2026-02-20"}},
        "surveyed",
        "2026-02-20",
        f"not sent; {ASKED}; changed since run 0001",
    ),
    (SENT, "offered", "2026-03-04", f"no answer; {ASKED}"),
    (ACCEPTED, "accepted", "2026-03-10", f"not fitted, no day set; {ASKED}"),
    (laid(ACCEPTED, {"status": {"fitted": "2026-03-18"}}), "fitted", "2026-03-18", "no readings"),
    (laid(ACCEPTED, {"status": {"reviewed": "2026-04-18"}}), "reviewed", "2026-04-18", ""),
]


@pytest.mark.parametrize(("status", "state", "since", "missing"), STATES)
def test_the_state_is_the_furthest_with_its_day(made, status, state, since, missing):
    """Each day in the status moves the job on; what comes next is missing."""
    found = row(written(made, status))
    assert (found.job, found.state, found.since, found.missing) == ("made", state, since, missing)
    total = json.loads((made / "runs" / "0001" / "results.json").read_text("utf-8"))["price"]["total"]
    assert (found.price, found.last_run) == (f"{total} EUR", "0001 of 2026-03-03")


def test_days_that_passed_are_told(made):
    """An offer past its last day, a day of work to come and one gone by: by the day of asking."""
    until = laid(SENT, {"quote": {"valid_until": "2026-03-19"}})
    assert "no answer, and it held until 2026-03-19" in row(written(made, until)).missing
    planned = laid(ACCEPTED, {"fitting": {"date": "2026-03-23"}})
    assert "not fitted, planned for 2026-03-23" in row(written(made, planned)).missing
    assert "not fitted, due since 2026-03-23" in row(made, dt.date(2026, 3, 24)).missing


def test_the_price_is_that_of_the_way_accepted(tmp_path):
    """A client who ticked a typed way pays its price, not that of the one recommended."""
    ways = {"alternatives": [{"name": "Only two", "films": {"panes": {"B": "grey"}}}]}
    folder = tmp_path / "job"
    folder.mkdir()
    issue(written(folder, ways), 1)
    stored = json.loads((folder / "runs" / "0001" / "results.json").read_text("utf-8"))
    (price,) = (way["total"] for way in stored["ways"] if way["name"] == "Only two")
    assert price != stored["price"]["total"]
    accepted = laid(ACCEPTED, {"status": {"accepted": {"way": "only two"}}})
    assert row(written(folder, ways, accepted)).price == f"{price} EUR"


def test_what_changed_after_the_last_run_is_told(made):
    """Status alone is no change of the job; another rate is."""
    assert "changed" not in row(written(made, SENT)).missing
    assert "changed since run 0001" in row(written(made, SENT, {"prices": {"travel": "31"}})).missing


def test_no_job_stops_the_table(tmp_path, capsys):
    """Without a survey, with faults, with a broken file, with a damaged run: a row each, exit code 0."""
    job(tmp_path, "a-good")
    (job(tmp_path, "b-no-survey") / "windows.csv").unlink()
    job(tmp_path, "c-faults", {"currency": "EURO", "units": "imperial"})
    (job(tmp_path, "d-broken") / "job.yaml").write_bytes(b"\xff\xfe\x00")
    damaged = job(tmp_path, "e-damaged", runs=1)
    (damaged / "runs" / "0001" / "results.json").write_text("{", "utf-8")
    (tmp_path / "f-survey").mkdir()
    (tmp_path / "a-good" / "windows.csv").rename(tmp_path / "f-survey" / "windows.csv")
    written(tmp_path / "a-good")
    assert main(["jobs", str(tmp_path)]) == 0
    out, err = capsys.readouterr()
    head, *rows = out.splitlines()
    assert head.split() == ["job", "state", "since", "price", "last", "run", "missing"]
    assert [one.split()[0] for one in rows] == [
        "a-good", "b-no-survey", "c-faults", "d-broken", "e-damaged", "f-survey",
    ]  # fmt: skip
    assert rows[0].endswith("not made")
    assert rows[1].endswith("no survey")
    assert rows[2].endswith("2 faults, see reportkit check")
    assert "fault" in rows[3]
    assert "run 0001 is damaged" in rows[4]
    assert rows[5].endswith("1 fault, see reportkit check")
    assert err == ""


def test_archives_hidden_and_shared_folders_hold_no_jobs(tmp_path):
    """Jobs are found at any depth; none in runs, dot-folders, _shared, in a job, or round a loop of links."""
    job(tmp_path, "2026/one", runs=1)
    job(tmp_path, "2026/one/inner")
    job(tmp_path, ".old/two")
    job(tmp_path, "_shared/three")
    job(tmp_path, "2025/four")
    (tmp_path / "runs" / "0001").mkdir(parents=True)
    written(tmp_path / "runs" / "0001")
    (tmp_path / "runs").rename(tmp_path / "2025" / "runs")
    (tmp_path / "2025" / "loop").symlink_to(tmp_path)
    assert [line.job for line in table(tmp_path, today=TODAY)] == ["2025/four", "2026/one"]
    assert [line.job for line in table(tmp_path / "2025" / "four", today=TODAY)] == ["four"]


def test_columns_stand_under_their_heads(made):
    """Every cell of a column begins where its head does."""
    head, *rows = printed(table(written(made, SENT), today=TODAY))
    assert rows[0].index("offered") == head.index("state")
    assert rows[0].index("no answer") == head.index("missing")


def test_a_folder_that_is_none_is_refused(tmp_path, capsys):
    """A place that is not there is the person's mistake; an empty one holds no jobs."""
    assert main(["jobs", str(tmp_path / "nowhere")]) == 2
    assert "must be a folder that holds jobs" in capsys.readouterr().err
    assert main(["jobs", str(tmp_path)]) == 0
    assert "holds no jobs" in capsys.readouterr().out
