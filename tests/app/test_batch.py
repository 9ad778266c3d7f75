"""Many jobs at once: as one by one, whatever fails, and what the page about them says."""

import csv
import dataclasses
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import Future
from decimal import Decimal

import pytest
from small_job import JOB, SURVEY, laid

from reportkit.app import batch as many
from reportkit.app import nursery, portfolio
from reportkit.app.archive import runs_of
from reportkit.app.command_line import main
from reportkit.app.folders import jobs_below
from reportkit.app.nursery import Nurseries, Nursery
from reportkit.app.parcel import Made, Parcel, made
from reportkit.app.run import make
from reportkit.job.reading.reader import load_job
from reportkit.job.writing.copies import contents

#: What tells the time it was made, and the sum of that.
TIMED = {"manifest.json", "tagmanifest-sha256.txt"}


def job_in(folder, **changes):
    """Write a small job and return its folder."""
    folder.mkdir(parents=True)
    (folder / "job.yaml").write_text(json.dumps(laid(JOB, changes)), encoding="utf-8")
    (folder / "windows.csv").write_text(SURVEY, encoding="utf-8")
    return folder


#: Gets ready as a nursery does, makes a job, and tells what was imported only for that.
AFTERWARDS = """
import json, sys
from pathlib import Path
from reportkit.app import nursery
from reportkit.app.parcel import Parcel, made
from reportkit.job import load_job
from reportkit.job.writing.copies import contents
nursery._prepare()
before = set(sys.modules)
assert made(Parcel("small", 1, contents(load_job(Path(sys.argv[1]))))).files
print(json.dumps(sorted(set(sys.modules) - before)))
"""

#: A scheduler and two workers, until told to end.
CLUSTER = """
import distributed, sys
if __name__ == "__main__":
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as place:
        print(place.scheduler_address, flush=True)
        sys.stdin.readline()
"""


class Here:
    """Makes parcels in this process, and may do harm to what it returns."""

    at_once = 2

    def __init__(self, harm=lambda answer, count: answer):
        self.count, self.harm = 0, harm

    def submit(self, parcel):
        """Make it at once."""
        self.count += 1
        answer: Future = Future()
        answer.set_result(self.harm(made(parcel), self.count))
        return answer

    def close(self):
        """Nothing is held."""


@pytest.fixture(scope="module")
def jobs(tmp_path_factory):
    """Return a folder of two jobs, one that has a fault, and what is none; all of it made once."""
    home = tmp_path_factory.mktemp("many")
    job_in(home / "one")
    job_in(home / "deep" / "two", client={"name": "Bo Example"})
    job_in(home / "wrong", units="ells")
    job_in(home / ".hidden" / "none")
    job_in(home / "one" / "runs" / "none")
    shutil.rmtree(home / "one" / "runs")
    makers = Nurseries(2)
    try:
        return home, many.batch(home, makers)
    finally:
        makers.close()


def test_one_that_fails_stops_none(jobs):
    """Two runs, and the third job's fault by name."""
    home, outcomes = jobs
    assert [(one.job, bool(one.run), one.exit_code) for one in outcomes] == [
        ("deep/two", True, 0),
        ("one", True, 0),
        ("wrong", False, 2),
    ]
    assert "units" in outcomes[2].reason
    assert not (home / "wrong" / "runs").exists()


def test_a_run_has_the_bytes_of_make(jobs, tmp_path):
    """Made elsewhere from its bytes, and in its own folder: every file the same but for the time."""
    home, _ = jobs
    alone = shutil.copytree(home / "one", tmp_path / "alone", ignore=shutil.ignore_patterns("runs"))
    run, other = make(alone), home / "one" / "runs" / "0001"
    names = {path.relative_to(run).as_posix() for path in run.rglob("*") if path.is_file()}
    assert names == {path.relative_to(other).as_posix() for path in other.rglob("*") if path.is_file()}
    assert len(names) > 15
    for name in names - TIMED:
        assert (run / name).read_bytes() == (other / name).read_bytes(), name


def test_what_is_made_is_left_and_what_changed_is_made_again(jobs, tmp_path):
    """The same inputs by the same code are skipped; another client is another job."""
    home = shutil.copytree(jobs[0], tmp_path / "again")
    text = (home / "one" / "job.yaml").read_text("utf-8")
    (home / "one" / "job.yaml").write_text(text.replace("Ana Example", "Eva Example"), encoding="utf-8")
    makers = Here()
    outcomes = many.batch(home, makers)
    assert makers.count == 1
    assert [(one.job, one.fresh, one.run and one.run.name) for one in outcomes] == [
        ("deep/two", False, "0001"),
        ("one", True, "0002"),
        ("wrong", False, None),
    ]


def test_other_code_makes_everything_again(jobs, tmp_path, monkeypatch):
    """A run of another state of the program is not what today's would be."""
    home = shutil.copytree(jobs[0], tmp_path / "again")
    monkeypatch.setattr(many, "_with", lambda: {"tool": "another"})
    makers = Here()
    many.batch(home, makers)
    assert makers.count == 2


def test_what_comes_back_damaged_is_made_again(tmp_path):
    """Once damaged: made again; damaged each time: told, and no run."""
    job_in(tmp_path / "a" / "one")
    job_in(tmp_path / "b" / "one")

    def bent(answer, times):
        files = dict(answer.files)
        files["proposal.pdf"] = files["proposal.pdf"][:-1] + b"!"
        return dataclasses.replace(answer, files=files)

    whole = many.batch(tmp_path / "a", Here(lambda answer, n: bent(answer, n) if n == 1 else answer))
    assert whole[0].run is not None and len(runs_of(tmp_path / "a" / "one")) == 1
    never = many.batch(tmp_path / "b", Here(bent))
    assert never[0].run is None and "damaged" in never[0].reason
    assert not (tmp_path / "b" / "one" / "runs").exists()


def test_no_file_leaves_its_folder(tmp_path):
    """A name that leads out of the run is refused."""
    job_in(tmp_path / "home" / "one")

    def out(answer, n):
        return dataclasses.replace(answer, files={"../../../stolen": b"x"})

    outcomes = many.batch(tmp_path / "home", Here(out))
    assert outcomes[0].run is None and not (tmp_path / "stolen").exists()


def parcel_of(folder):
    """Return a job as it travels."""
    return Parcel("one", 1, contents(load_job(folder)))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
def test_a_child_that_is_killed_takes_only_its_own_job(tmp_path, monkeypatch):
    """Its signal is told, and the nursery goes on."""
    monkeypatch.setattr(nursery, "made", lambda parcel: os.kill(os.getpid(), signal.SIGKILL))
    answer = nursery._in_a_child(Parcel("one", 1, {}))
    assert answer.exit_code == 1 and "signal 9" in answer.reason


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
def test_a_nursery_that_is_killed_is_started_again(tmp_path):
    """The parcel it held is made by the next; nothing of it lives on after it is closed."""
    parcel = parcel_of(job_in(tmp_path / "one"))
    own = Nursery()
    own._running()
    first = own._process.pid
    killer = threading.Thread(target=lambda: (time.sleep(1.0), os.kill(first, signal.SIGKILL)))
    killer.start()
    answer = own.made(parcel)
    killer.join()
    assert answer.exit_code == 0 and answer.files["proposal.pdf"]
    second = own._process.pid
    assert second != first
    own.close()
    with pytest.raises(ProcessLookupError):
        os.kill(second, 0)


def test_a_nursery_runs_the_program_of_whoever_started_it(tmp_path, monkeypatch):
    """A package of the same name in the folder that a command is run in is not taken for it."""
    (tmp_path / "reportkit").mkdir()
    (tmp_path / "reportkit" / "__init__.py").write_text("raise SystemExit('another program')", "utf-8")
    monkeypatch.chdir(tmp_path)
    own = Nursery()
    answer = own.made(Parcel("one", 1, {"job.yaml": b"["}))
    own.close()
    assert answer.exit_code == 2 and "job.yaml" in answer.reason


def test_a_cluster_makes_the_same_and_holds_no_more_than_it_works_on(jobs, tmp_path):
    """Through Dask's scheduler and two workers of their own processes: the bytes of a run here."""
    pytest.importorskip("distributed")
    from reportkit.app.cluster import Cluster

    home = shutil.copytree(jobs[0], tmp_path / "there", ignore=shutil.ignore_patterns("runs"))
    # started by a program of its own: a worker's process begins with the main module of its starter
    with subprocess.Popen(
        [sys.executable, "-c", CLUSTER], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as place:
        makers = Cluster(place.stdout.readline().strip())
        assert makers.at_once == 4
        outcomes = many.batch(home, makers)
        makers.close()
        place.communicate("end\n")
    assert [bool(one.run) for one in outcomes] == [True, True, False]
    for name in ("results.json", "proposal.pdf", "reasoning.ipynb"):
        there, here = (folder / "one" / "runs" / "0001" / name for folder in (home, jobs[0]))
        assert there.read_bytes() == here.read_bytes()


def test_the_rooms_are_ranked_by_relief_for_their_price(jobs, tmp_path):
    """One room, priced whole: its watts are those of its panes, its price its job's."""
    home, outcomes = jobs
    rooms = portfolio.rooms_of(outcomes)
    assert [room.rank for room in rooms] == [1, 2] and len({room.job for room in rooms}) == 2
    results = json.loads((home / "one" / "runs" / "0001" / "results.json").read_text("utf-8"))
    room = next(room for room in rooms if room.job == "one")
    assert room.price_share == Decimal(results["price"]["total"])
    assert room.filmed_m2 == pytest.approx(8 * 1.0 * 1.25 + 2 * 1.2 * 1.25)
    kept = sum(pane["peak_solar_w"] - pane["peak_solar_filmed_w"] for pane in results["panes"])
    assert room.peak_w - room.peak_with_film_w == pytest.approx(kept, abs=0.2)
    # no more than a sun of 1,100 W on each square metre
    assert 0 < room.peak_w < 1100 * room.filmed_m2
    assert room.kept_out_w_per_100 == pytest.approx(kept / float(room.price_share) * 100, abs=0.1)


def test_the_tables_and_the_page(jobs, tmp_path):
    """The failed job and its reason, the rooms in CSV and Parquet alike, and a page that asks for nothing."""
    _, outcomes = jobs
    written = portfolio.write(tmp_path / "batch", outcomes)
    with (tmp_path / "batch" / "rooms.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [row["rank"] for row in rows] == ["1", "2"]
    if any(path.suffix == ".parquet" for path in written):
        from pyarrow import parquet

        table = parquet.read_table(tmp_path / "batch" / "rooms.parquet").to_pylist()
        assert [str(line["price_share"]) for line in table] == [row["price_share"] for row in rows]
    page = (tmp_path / "batch" / "batch.html").read_text("utf-8")
    assert "2 of 3 jobs have a run" in page and "units" in page and "<script" not in page
    assert page.index("Jobs without a run") < page.index("Rooms with film") < page.rindex("Every job")


def _outcomes(home, template, *manners):
    """Return outcomes of jobs that differ from a run in how they are written, by name."""
    results = json.loads((template / "results.json").read_text("utf-8"))
    found = []
    for number, (units, language, locale, currency) in enumerate(manners):
        run = home / f"job{number}" / "runs" / "0001"
        run.mkdir(parents=True)
        job = results["job"] | {"units": units, "language": language, "locale": locale, "currency": currency}
        changed = results | {"job": job, "price": results["price"] | {"currency": currency}}
        (run / "results.json").write_text(json.dumps(changed), "utf-8")
        found.append(many.Outcome(f"job{number}", run))
    return found


US_ES = ("us", "es", "es_US", "USD")


def test_the_page_is_written_as_most_jobs_are(jobs, tmp_path):
    """Two of three in US units, Spanish and dollars: so is the page, the third's area converted, euros kept.

    A square foot is .09290304 m2 (NIST SP 811, from memory).
    """
    home, _ = jobs
    outcomes = _outcomes(
        tmp_path, home / "one" / "runs" / "0001", ("metric", "en", "en_IE", "EUR"), US_ES, US_ES
    )
    folder = tmp_path / "batch"
    portfolio.write(folder, outcomes)
    page = (folder / "batch.html").read_text("utf-8")
    text = " ".join(re.sub(r"<style.*?</style>|<[^>]+>", " ", page, flags=re.S).split()).replace(
        "\u00a0", " "
    )
    assert '<html lang="es' in page
    assert "Escrito como la mayoría de estos trabajos: español, unidades de EE. UU., USD." in text
    assert "Las habitaciones de trabajos en otras unidades están convertidas." in text
    area = 8 * 1.0 * 1.25 + 2 * 1.2 * 1.25
    assert text.count(f"{area / 0.09290304:.1f} ft²") == 3 and "m²" not in text
    room = portfolio.rooms_of(outcomes)[0]
    assert (room.currency, f"EUR {room.price_share:,.2f}" in text) == ("EUR", True)
    assert text.count(f"${room.price_share:,.2f}") == 2
    assert text.index("job1") < text.index("job2") < text.index("job0")  # its own currency first
    for word in ("Rank", "Room", "Hot hours", "converted", "have a run", "made "):
        assert word not in text
    rows = (folder / "rooms.csv").read_text("utf-8")
    assert f"{area}" in rows and "kept_out_w_per_100" in rows  # for programs: SI and English, as ever


def test_a_page_of_jobs_all_alike_says_how_it_is_written(jobs, tmp_path):
    """All metric, English and in euros: said in one sentence, and nothing of conversion."""
    _, outcomes = jobs
    portfolio.write(tmp_path / "batch", outcomes)
    page = (tmp_path / "batch" / "batch.html").read_text("utf-8")
    assert "Written as most of these jobs are: English, metric units, EUR." in page
    assert "converted" not in page and "rate of exchange" not in page
    assert "13.0\u00a0m²" in page


def test_the_command(tmp_path, capsys):
    """No jobs: the asker's mistake, as is a number of workers below one."""
    assert main(["batch", str(tmp_path)]) == 2
    assert main(["batch", str(tmp_path), "--workers", "0"]) == 2
    assert "jobs below it" in capsys.readouterr().err


def test_jobs_are_found_where_they_lie(tmp_path):
    """Never in runs, behind a dot, in the shared folder or inside a job; a circle of links ends."""
    for name in ("b", "A/c", ".x", "_shared", "b/runs/0001/inputs", "b/inner"):
        (tmp_path / name).mkdir(parents=True, exist_ok=True)
        (tmp_path / name / "job.yaml").touch()
    (tmp_path / "A" / "again").symlink_to(tmp_path)
    assert [one.relative_to(tmp_path).as_posix() for one in jobs_below(tmp_path)] == ["A/c", "b"]


def test_a_failure_of_ours_is_an_answer(tmp_path):
    """Whatever happens to a parcel comes back as a reason."""
    assert made(Parcel("one", 1, {"job.yaml": b"["})).exit_code == 2
    answer = made(Parcel("one", 1, {"../x": b""}))
    assert isinstance(answer, Made) and answer.exit_code == 1 and "outside" in answer.reason


def test_a_job_that_fails_says_why_in_its_own_language(tmp_path, capsys):
    """Of two alike jobs the Spanish one's reason is in Spanish, and so is what convert says of remarks."""
    for language in ("en", "es"):
        job_in(tmp_path / language, language=language, units="furlongs")
    assert main(["batch", str(tmp_path), "--workers", "1"]) == 2
    told = capsys.readouterr().err
    assert "en: job.yaml:1 units: must be one of us, metric" in told
    assert "es: job.yaml:1 units: debe ser una de estas palabras: us, metric" in told
    files = contents(load_job(job_in(tmp_path / "right", language="es")))
    answer = made(Parcel("sent", 1, files | {"job.yaml": files["job.yaml"].replace(b"metric", b"furlongs")}))
    assert "debe ser una de estas palabras" in answer.reason
    folder = job_in(tmp_path / "other" / "es", language="es")
    assert main(["convert", str(folder)]) == 0
    assert "las notas (#) no caben en un libro" in capsys.readouterr().err


def test_a_nursery_has_imported_what_its_children_need(tmp_path):
    """What every child imports again is paid for by every job: drawing alone is a hundred modules."""
    command = [sys.executable, "-c", AFTERWARDS, str(job_in(tmp_path / "job"))]
    told = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    late = json.loads(told.splitlines()[-1])
    assert len(late) < 20, " ".join(late)
