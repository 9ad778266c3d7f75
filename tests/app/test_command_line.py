"""The commands as people script them: exit codes, what goes to which stream, what is written."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from reportkit.app import table
from reportkit.app.command_line import main
from reportkit.documents.language.formats import Formats

JOBS = Path(__file__).parents[2] / "jobs"


@pytest.fixture
def job(tmp_path):
    """Return a copy of a demo job with the shared folder beside it."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    return shutil.copytree(
        JOBS / "hill-studio", tmp_path / "hill-studio", ignore=shutil.ignore_patterns("runs")
    )


@pytest.mark.parametrize("units", ["us", "metric"])
def test_start_writes_a_job_that_check_passes(tmp_path, capsys, units):
    """The starter is clean in both unit systems; a second start writes nothing."""
    folder = tmp_path / "new"
    assert main(["start", str(folder), "--units", units]) == 0
    assert capsys.readouterr().out.splitlines() == [str(folder / "job.yaml"), str(folder / "windows.csv")]
    assert main(["check", str(folder)]) == 0
    assert capsys.readouterr().out == ""
    assert main(["start", str(folder)]) == 2
    assert "there already" in capsys.readouterr().err


def test_schemas_are_printed_for_programs_that_write_jobs_and_read_results(job, capsys, results_of):
    """A demo's results and a job's tree are valid by what is printed (JSON Schema 2020-12)."""
    printed = {}
    for file in ("job", "results"):
        assert main(["schema", file]) == 0
        printed[file] = json.loads(capsys.readouterr().out)
        jsonschema.Draft202012Validator.check_schema(printed[file])
    jsonschema.validate(results_of("hill-studio"), printed["results"])
    tree = {"id": "x", "units": "furlongs"}
    faults = jsonschema.Draft202012Validator(printed["job"]).iter_errors(tree)
    assert any(fault.json_path == "$.units" for fault in faults)


def test_check_prints_every_fault_on_a_line_of_its_own_to_stdout(job, capsys):
    """Two mistakes, two lines, exit code 2; stderr stays empty."""
    path = job / "job.yaml"
    text = path.read_text(encoding="utf-8").replace("currency: ", "currncy: ", 1)
    path.write_text(text.replace("units: metric", "units: imperial", 1), encoding="utf-8")
    assert main(["check", str(job)]) == 2
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert any(line.startswith("job.yaml:") and "currncy" in line and "currency" in line for line in lines)
    assert any("units" in line and "imperial" in line for line in lines)
    assert err == ""


def test_make_prints_the_run_last_and_nothing_else_off_a_terminal(job, capsys, monkeypatch):
    """Progress shows on a terminal only; stdout ends on the run's folder; stderr has the price."""
    monkeypatch.setenv("NO_COLOR", "1")
    assert main(["make", str(job), "--only", "html"]) == 0
    out, err = capsys.readouterr()
    assert Path(out.splitlines()[-1]) == job / "runs" / "0001"
    assert (job / "runs" / "0001" / "proposal.html").is_file()
    results = json.loads((job / "runs" / "0001" / "results.json").read_text(encoding="utf-8"))
    assert results["price"]["total"] is not None
    fmt = Formats(
        results["job"]["locale"], units=results["job"]["units"], currency=results["job"]["currency"]
    )
    assert [line for line in err.splitlines() if fmt.money(results["price"]["total"]) in line]
    assert "…" not in err


def test_make_of_a_faulty_job_says_so_on_stderr_without_a_traceback(job, capsys):
    """Exit code 2, every fault, no run."""
    (job / "windows.csv").unlink()
    assert main(["make", str(job)]) == 2
    out, err = capsys.readouterr()
    assert "windows.csv" in err
    assert "Traceback" not in err
    assert out == ""
    assert not (job / "runs").exists()


def test_our_own_mistake_is_exit_code_1_and_debug_shows_it(job, capsys, monkeypatch):
    """An unexpected error is told in one line; --debug raises it."""
    monkeypatch.setattr("reportkit.app.run.make", lambda *args, **kwargs: 1 / 0)
    assert main(["make", str(job)]) == 1
    assert "ZeroDivisionError" in capsys.readouterr().err
    with pytest.raises(ZeroDivisionError):
        main(["make", str(job), "--debug"])


def test_cut_plans_a_list_and_writes_json_and_drawings(tmp_path, capsys):
    """Fifty panes of 46 x 104 in on rolls of 100 ft: eleven a roll, so five rolls (geometry, exact)."""
    pieces = tmp_path / "pieces.csv"
    pieces.write_text("id,width,length,quantity,turn,group\nP,46 in,104 in,50,no,\n", encoding="utf-8")
    json_file, page, drawing = tmp_path / "plan.json", tmp_path / "plan.html", tmp_path / "plan.svg"
    command = ["cut", str(pieces), "--roll", "48 in x 100 ft@200", "--json", str(json_file)]
    assert main([*command, "--drawing", str(page)]) == 0
    assert main([*command, "--drawing", str(drawing)]) == 0
    out = capsys.readouterr().out
    assert "Buy for 1000.00" in out
    plan = json.loads(json_file.read_text(encoding="utf-8"))
    assert len(plan["rolls"]) == 5
    assert plan["proven"]
    assert page.read_text(encoding="utf-8").startswith("<!")
    drawings = sorted(tmp_path.glob("*.svg"))
    assert [path.name for path in drawings] == [f"plan-{n}.svg" for n in range(1, len(drawings) + 1)]
    assert sum(path.read_text(encoding="utf-8").count("<svg") for path in drawings) == len(drawings) > 1


def test_cut_speaks_the_language_asked_for(tmp_path, capsys):
    """List and drawing are Spanish, the JSON is the same in every language; one without words is refused."""
    pieces = tmp_path / "pieces.csv"
    pieces.write_text("id,width,length,quantity\nP,700,1100,3\n", encoding="utf-8")
    command = ["cut", str(pieces), "--roll", "1524 x 30500@200.50"]
    written = {}
    for code in ("en", "es"):
        files = [tmp_path / f"{code}.json", tmp_path / f"{code}.svg"]
        more = ["--json", str(files[0]), "--drawing", str(files[1]), "--language", code]
        assert main([*command, *more]) == 0
        written[code] = (capsys.readouterr().out, *(file.read_text(encoding="utf-8") for file in files))
    assert written["en"][0].startswith("Buy for 200.50:")
    assert written["es"][0].startswith("Comprar por 200,50:")
    assert written["en"][1] == written["es"][1]
    assert "wide" in written["en"][2] and "wide" not in written["es"][2] and "de ancho" in written["es"][2]
    assert main(command) == 0
    assert capsys.readouterr().out == written["en"][0]
    with pytest.raises(SystemExit) as error:
        main([*command, "--language", "xx"])
    assert error.value.code == 2
    assert "is not one of en, es" in capsys.readouterr().err


def test_cut_tells_every_fault_with_file_and_line(tmp_path, capsys):
    """Wrong sizes, wrong rolls and an impossible piece are the person's mistakes: exit code 2."""
    pieces = tmp_path / "pieces.csv"
    pieces.write_text("id,width,length\nA,-4,10\nB,100,\n", encoding="utf-8")
    assert main(["cut", str(pieces), "--roll", "sixty@1"]) == 2
    err = capsys.readouterr().err
    assert "pieces.csv:2 width" in err
    assert "pieces.csv:3 length" in err
    assert "--roll" in err
    pieces.write_text("id,width,length\nA,700,10\nC,3000,2000\n", encoding="utf-8")
    assert main(["cut", str(pieces), "--roll", "1524 x 30500@1", "--table", "1 m"]) == 2
    assert "pieces.csv:3 C" in capsys.readouterr().err


def test_an_unknown_command_is_refused(capsys):
    """argparse names the commands there are."""
    with pytest.raises(SystemExit) as error:
        main(["nonsense"])
    assert error.value.code == 2
    assert "make" in capsys.readouterr().err


def test_the_command_line_imports_nothing_slow():
    """What every command waits for, its help too, holds no model of a job and no arrays."""
    code = "import sys; from reportkit.app.command_line import main; print(*sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    loaded = told.stdout.split()
    assert "reportkit.app.arguments" in loaded
    assert not {"numpy", "pydantic", "pandas", "reportkit.job"} & {*loaded}


@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("command", ["cut", "check", "start", "make", "--help"])
@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_a_command_nobody_reads_any_more_names_the_closed_pipe(tmp_path, command, stream, unbuffered):
    """Behind ``| head`` a command ends with 1 and one line that says so: it is nobody's mistake here."""
    pieces = tmp_path / "pieces.csv"
    pieces.write_text("id,width,length,quantity\nP,46 in,104 in,5\n", encoding="utf-8")
    asked, says = {
        "cut": (["cut", str(pieces), "--roll", "48 in x 100 ft@200"], "stdout"),
        "check": (["check", str(tmp_path)], "stdout"),  # no job.yaml there: a fault
        "start": (["start", str(tmp_path / "new")], "stdout"),
        "make": (["make", str(tmp_path)], "stderr"),
        "--help": (["--help"], "stdout"),
    }[command]
    reader, writer = os.pipe()
    os.close(reader)
    other = "stderr" if stream == "stdout" else "stdout"
    try:
        ended = subprocess.run(
            [
                sys.executable,
                "-c",
                "from reportkit.app.command_line import main; raise SystemExit(main())",
                *asked,
            ],
            env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
            **{stream: writer, other: subprocess.PIPE},
            check=False,
        )
    finally:
        os.close(writer)
    if says == stream:
        told = getattr(ended, other)
        assert told == b"" or (other == "stderr" and told.count(b"\n") == 1 and b"has gone" in told)
        assert b"our mistake" not in told
        # argparse prints its help whether or not anybody takes it
        assert ended.returncode == 1 or (command, unbuffered, ended.returncode) == ("--help", "1", 0)
    else:
        assert ended.returncode in (0, 2)
        assert getattr(ended, other)


def test_a_pipe_that_breaks_within_is_still_our_mistake(job, capsys, monkeypatch):
    """Only the command's own output may end it quietly: a process of ours that dies is told."""

    def broken(*args, **kwargs):
        raise BrokenPipeError("a kernel that went")

    monkeypatch.setattr("reportkit.app.run.make", broken)
    assert main(["make", str(job)]) == 1
    assert "BrokenPipeError" in capsys.readouterr().err
    with pytest.raises(BrokenPipeError):
        main(["make", str(job), "--debug"])


def test_consult_without_the_page_says_how_to_open_the_notebook(job, capsys, monkeypatch):
    """Without the extra, or with --lab, the notebook is written, and a line says how to open it."""
    monkeypatch.setattr(table, "serve", lambda *given, **more: pytest.fail("served"))
    monkeypatch.setattr(table, "installed", lambda: False)
    assert main(["consult", str(job)]) == 0
    out, err = capsys.readouterr()
    assert out == f"jupyter lab {job / 'consultation.ipynb'}\n"
    assert 'pip install "reportkit[table]"' in err
    monkeypatch.setattr(table, "installed", lambda: True)
    assert main(["consult", str(job), "--lab"]) == 0
    assert capsys.readouterr() == (out, "")
    assert (job / "consultation.ipynb").is_file()


def test_consult_serves_the_notebook_of_the_job(job, capsys, monkeypatch):
    """With the extra, the page is served and opened; its address stands alone on stdout."""

    def serve(notebook, *, tell, browser):
        tell("http://127.0.0.1:1/?token=x")
        assert (notebook, browser) == (job / "consultation.ipynb", True)

    monkeypatch.setattr(table, "serve", serve)
    monkeypatch.setattr(table, "installed", lambda: True)
    assert main(["consult", str(job)]) == 0
    out, err = capsys.readouterr()
    assert out == "http://127.0.0.1:1/?token=x\n"
    assert "Ctrl-C" in err
