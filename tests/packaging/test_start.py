"""The starter's pure parts: what it decides, and the sentences it says. Nothing is installed."""

from __future__ import annotations

import errno
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starter import FOLDER, ROOT, load

NAMES = ("common", "debian", "libraries", "venv", "lock", "translate", "checks", "verbs")

start = load("start")
common, debian, libraries, venv, lock, translate, checks, verbs = (
    load(f"start_{name}") for name in NAMES
)


class TestPython:
    @pytest.mark.parametrize("minor", [11, 12, 13])
    def test_ours_are_taken(self, minor: int) -> None:
        assert start.version_fault(3, minor) == ""

    @pytest.mark.parametrize("version", [(2, 7), (3, 10), (3, 14), (4, 11)])
    def test_others_are_refused_in_one_sentence(self, version: tuple[int, int]) -> None:
        fault = start.version_fault(*version)
        assert f"this is Python {version[0]}.{version[1]}:" in fault
        assert "\n" not in fault

    def test_the_range_is_pyprojects(self) -> None:
        text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
        low, high = start.LOWEST, start.HIGHEST
        assert f'requires-python = ">={low[0]}.{low[1]},<{high[0]}.{high[1] + 1}"' in text


class TestDisplay:
    @pytest.mark.parametrize("platform", ["win32", "darwin"])
    def test_windows_and_macos_have_one(self, platform: str) -> None:
        assert verbs.has_display(platform, {})

    @pytest.mark.parametrize(
        ("environment", "there"),
        [
            ({}, False),
            ({"DISPLAY": ""}, False),
            ({"DISPLAY": ":0"}, True),
            ({"WAYLAND_DISPLAY": "wayland-0"}, True),
            ({"DISPLAY": "", "WAYLAND_DISPLAY": "wayland-0"}, True),
        ],
    )
    def test_linux_asks_the_environment(self, environment: dict[str, str], there: bool) -> None:
        assert verbs.has_display("linux", environment) is there


class TestCommandLine:
    @given(st.lists(st.text(max_size=3)), st.lists(st.text(max_size=3)))
    def test_words_after_the_dashes_are_handed_on(self, ours: list[str], on: list[str]) -> None:
        ours = [word for word in ours if word != "--"]
        assert verbs.split([*ours, "--", *on]) == (ours, on)
        assert verbs.split(ours) == (ours, [])

    def test_verbs(self) -> None:
        parse = verbs.parser().parse_args
        assert parse([]).verb is None
        assert parse(["setup"]).verb == "setup"
        assert parse(["test"]).verb == "test"
        assert parse(["bench"]).name is None
        assert parse(["bench", "store"]).name == "store"
        assert parse(["lock", "--upgrade"]).upgrade is True
        assert parse(["translate"]).verb == "translate"
        assert parse(["crash-test", "--count", "1000"]).count == 1000

    @pytest.mark.parametrize(
        "words",
        [["clean"], ["setup", "--", "x"], ["lock", "--", "x"], ["translate", "--", "x"]],
    )
    def test_what_makes_no_sense_is_refused(
        self, words: list[str], capsys: pytest.CaptureFixture[str]
    ) -> None:
        with pytest.raises(SystemExit) as caught:
            verbs.main(words)
        assert caught.value.code == 2
        assert "start.py: error:" in capsys.readouterr().err


class TestSentences:
    def refuse(self, error: BaseException, monkeypatch: pytest.MonkeyPatch) -> int:
        def failing() -> Path:
            raise error

        monkeypatch.setattr(verbs, "set_up", failing)
        return int(verbs.main(["setup"]))

    def test_a_failing_step_is_its_sentence(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert self.refuse(verbs.StartError("No bread."), monkeypatch) == 1
        assert capsys.readouterr().err == "No bread.\n"

    def test_a_full_disk_is_a_sentence(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        error = OSError(errno.ENOSPC, "No space left on device", "out/start.log")
        assert self.refuse(error, monkeypatch) == 1
        shown = "The system refused (out/start.log): No space left on device.\n"
        assert capsys.readouterr().err == shown

    def test_control_c_is_no_traceback(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert self.refuse(KeyboardInterrupt(), monkeypatch) == 130
        assert capsys.readouterr().err == "Stopped.\n"


class TestMainJob:
    def ran(
        self, display: str, words: list[str], monkeypatch: pytest.MonkeyPatch
    ) -> tuple[int, list[str]]:
        commands: list[list[str]] = []

        def run(command: list[str], **_: object) -> object:
            commands.append(command)
            return verbs.subprocess.CompletedProcess(command, 7)

        monkeypatch.setattr(verbs.sys, "platform", "linux")
        monkeypatch.setenv("DISPLAY", display)
        monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
        monkeypatch.setattr(verbs.subprocess, "run", run)
        code = verbs.main_job(Path("python"), words)
        (command,) = commands
        return code, command

    @pytest.mark.parametrize(
        ("display", "words", "said"),
        [
            (":0", ["demo"], "Opening the window"),
            ("", ["demo", "--auto", "--out", "out/demo"], "no display"),
        ],
    )
    def test_the_demonstration_opens_a_window_where_there_is_a_display(
        self,
        display: str,
        words: list[str],
        said: str,
        monkeypatch: pytest.MonkeyPatch,
        capsys: pytest.CaptureFixture[str],
    ) -> None:
        code, command = self.ran(display, [], monkeypatch)
        assert code == 7
        assert command == ["python", "-m", "brimline", *words]
        assert said in capsys.readouterr().out

    def test_handed_on_words_replace_it(self, monkeypatch: pytest.MonkeyPatch) -> None:
        _, command = self.ran("", ["history", "X"], monkeypatch)
        assert command == ["python", "-m", "brimline", "history", "X"]


class TestEnvironment:
    def test_a_whole_python_needs_nothing(self) -> None:
        assert venv.venv_fault(True, (3, 11), "/usr") == ""

    def test_debians_python_without_venv_names_the_package(self) -> None:
        fault = venv.venv_fault(False, (3, 12), "/usr")
        assert fault.endswith("sudo apt-get install --no-install-recommends python3.12-venv")

    @pytest.mark.parametrize("base", ["/usr/local", "/opt/python"])
    def test_another_incomplete_python_is_not_debians(self, base: str) -> None:
        fault = venv.venv_fault(False, (3, 12), base)
        assert base in fault
        assert "apt-get" not in fault

    def test_without_rights_the_command_is_the_message(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(venv, "_has_venv", lambda: False)
        monkeypatch.setattr(venv.sys, "base_prefix", "/usr")
        monkeypatch.setattr(debian, "may_install", lambda: False)
        with pytest.raises(venv.StartError, match=r"sudo apt-get install .*-venv$"):
            venv._ensure_venv_module()

    def test_places_by_system(self) -> None:
        where = Path("x")
        assert venv.python_of(where, "win32") == where / "Scripts" / "python.exe"
        assert venv.python_of(where, "linux") == where / "bin" / "python"
        assert venv.script_of(where, "uv", "win32") == where / "Scripts" / "uv.exe"
        assert venv.script_of(where, "uv", "darwin") == where / "bin" / "uv"

    def test_the_fingerprint_follows_what_it_is_made_from(self, tmp_path: Path) -> None:
        seen = set()
        for place in (tmp_path / "a", tmp_path / "b"):
            (place / "packaging").mkdir(parents=True)
            (place / "packaging" / "requirements.lock").write_text("x==1\n")
            (place / "pyproject.toml").write_text("[project]\n")
            seen |= {venv.fingerprint(place, (3, 11)), venv.fingerprint(place, (3, 12))}
            assert venv.fingerprint(place, (3, 11)) in seen
            (place / "pyproject.toml").write_text("[project]\nname = 'x'\n")
            seen.add(venv.fingerprint(place, (3, 11)))
            (place / "packaging" / "requirements.lock").write_text("x==2\n")
            seen.add(venv.fingerprint(place, (3, 11)))
        assert len(seen) == 8

    def test_an_incomplete_checkout_is_a_sentence(self, tmp_path: Path) -> None:
        with pytest.raises(venv.StartError, match=r"requirements\.lock is missing"):
            venv.fingerprint(tmp_path, (3, 11))

    @pytest.mark.parametrize(
        ("output", "why"),
        [
            # pip's own lines, as seen from pip 23.2.
            (
                "WARNING: Retrying (Retry(total=4)) after connection broken by "
                "'NewConnectionError(': Failed to establish a new connection'\n"
                "ERROR: No matching distribution found for alembic==1.20.1",
                "the package index could not be reached",
            ),
            (
                "ERROR: Could not install packages due to an OSError: "
                "[Errno 28] No space left on device",
                "the disk is full",
            ),
            (
                "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.",
                "a package differs from its hash in packaging/requirements.lock",
            ),
            ("ERROR: something else", "pip failed"),
        ],
    )
    def test_pips_failures_are_clauses(self, output: str, why: str) -> None:
        assert venv.explain(output) == why


class TestLibraries:
    def test_a_faked_system_without_two(self) -> None:
        gone = {"libxcb-icccm.so.4", "libEGL.so.1"}
        absent = libraries.missing(loads=lambda soname: soname not in gone)
        assert {library.soname for library in absent} == gone
        assert libraries.packages_of(absent) == ["libegl1", "libxcb-icccm4"]

    def test_a_package_is_named_once(self) -> None:
        absent = libraries.missing(loads=lambda soname: "-2.0" not in soname)
        assert len(absent) == 2
        assert libraries.packages_of(absent) == ["libglib2.0-0"]

    def test_the_loader_is_asked(self) -> None:
        assert not libraries.loads("libno-such-library-of-brimline.so.9")

    @pytest.mark.skipif(not sys.platform.startswith("linux"), reason="glibc's own name")
    def test_the_loader_finds_what_is_there(self) -> None:
        assert libraries.loads("libc.so.6")

    def test_advice_is_the_command_or_the_names(self) -> None:
        absent = [libraries.Library("libEGL.so.1", "libegl1")]
        with_apt = libraries.advice(absent, apt=True)
        assert with_apt.endswith("sudo apt-get install --no-install-recommends libegl1")
        without = libraries.advice(absent, apt=False)
        assert "libEGL.so.1" in without
        assert "apt-get" not in without

    def test_without_rights_it_advises_and_goes_on(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        absent = [libraries.Library("libEGL.so.1", "libegl1")]
        monkeypatch.setattr(libraries.sys, "platform", "linux")
        monkeypatch.setattr(libraries, "missing", lambda _: absent)
        monkeypatch.setattr(libraries.start_debian, "may_install", lambda: False)
        monkeypatch.setattr(libraries.start_debian, "has_apt", lambda: True)
        libraries.ensure()
        first, second = capsys.readouterr().out.splitlines()
        assert first.endswith("libegl1")
        assert second.startswith("Going on without them")

    def test_what_only_sound_needs_stops_nothing(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        wanted: list[list[str]] = []
        monkeypatch.setattr(libraries.sys, "platform", "linux")
        monkeypatch.setattr(
            libraries, "missing", lambda of: list(of) if of is libraries.OPTIONAL else []
        )
        monkeypatch.setattr(libraries.start_debian, "may_install", lambda: True)
        monkeypatch.setattr(
            libraries.start_debian, "install", lambda names: wanted.append(names) or "No network."
        )
        monkeypatch.setattr(libraries.start_debian, "has_apt", lambda: True)
        libraries.ensure()
        fault, first, second = capsys.readouterr().out.splitlines()
        assert fault == "No network."
        assert "sounds and a voice need" in first
        assert first.endswith(" ".join(wanted[0]))
        assert {"libpulse0", "libspeechd2", "speech-dispatcher"} < set(wanted[0])
        assert "beeps" in second

    @pytest.mark.parametrize("platform", ["win32", "darwin"])
    def test_nothing_to_do_elsewhere(self, platform: str, monkeypatch: pytest.MonkeyPatch) -> None:
        def asked(_: object) -> list[object]:
            pytest.fail("looked for Linux libraries elsewhere")

        monkeypatch.setattr(libraries.sys, "platform", platform)
        monkeypatch.setattr(libraries, "missing", asked)
        libraries.ensure()


class TestChecks:
    def test_what_ci_runs_in_order(self) -> None:
        listed = checks.checks(Path("python"), ["-k", "gates"])
        names = [check.name for check in listed]
        assert names[:3] == ["ruff check", "ruff format", "mypy"]
        assert names[-2:] == ["lint-imports", "pytest"]
        assert listed[-1].command[:3] == ("python", "-m", "pytest")
        assert listed[-1].command[-2:] == ("-k", "gates")

    def test_all_run_even_if_one_fails(self, capsys: pytest.CaptureFixture[str]) -> None:
        ran = []

        def call(command: tuple[str, ...]) -> int:
            ran.append(command)
            return 3 if command == ("b",) else 0

        listed = [checks.Check(name, (name,)) for name in "abc"]
        assert checks.run_all(listed, call) == ["b"]
        assert ran == [("a",), ("b",), ("c",)]
        lines = capsys.readouterr().out.splitlines()
        assert len(lines) == 3
        assert lines[1].startswith("b: failed (exit code 3), ")
        assert lines[2].startswith("c: ok, ")

    def test_a_failed_check_fails_the_verb(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(verbs, "set_up", lambda: Path("python"))
        monkeypatch.setattr(verbs.start_checks, "run_all", lambda _: ["mypy"])
        assert verbs.main(["test"]) == 1
        monkeypatch.setattr(verbs.start_checks, "run_all", lambda _: [])
        assert verbs.main(["test"]) == 0

    def test_the_crash_test_is_run_so_often(self, monkeypatch: pytest.MonkeyPatch) -> None:
        ran = []

        def call(command: tuple[str, ...]) -> int:
            ran.append(command)
            return 1

        assert checks.run_crash_test(Path("python"), 7, ["--warm"], call) == 1
        assert ran[0][-3:] == ("--count", "7", "--warm")
        assert Path(ran[0][1]).is_file()
        monkeypatch.setattr(verbs, "set_up", lambda: Path("python"))
        monkeypatch.setattr(
            verbs.start_checks, "run_crash_test", lambda _, count, more: count + len(more)
        )
        assert verbs.main(["crash-test", "--count", "3", "--", "--warm"]) == 4

    def test_benchmarks_are_named_by_their_files(self, tmp_path: Path) -> None:
        for name in ("bench_store.py", "bench_chart.py", "helper.py"):
            (tmp_path / name).touch()
        assert checks.benchmark_names(tmp_path) == ["chart", "store"]
        assert checks.benchmark_names(tmp_path / "none") == []

    def test_an_unknown_benchmark_lists_the_known(self) -> None:
        known = ["chart", "store"]
        assert checks.chosen_benchmarks(None, known) == known
        assert checks.chosen_benchmarks("store", known) == ["store"]
        with pytest.raises(checks.StartError, match="named walk; there are: chart, store"):
            checks.chosen_benchmarks("walk", known)
        with pytest.raises(checks.StartError, match="there are none yet"):
            checks.chosen_benchmarks("walk", [])


class TestLock:
    def test_its_command_is_universal_hashed_and_names_no_index(self) -> None:
        command = lock.command(Path("uv"), common.LOCK, upgrade=False)
        assert {"--universal", "--generate-hashes", "--no-emit-index-url"} <= set(command)
        assert "--upgrade" not in command
        assert str(ROOT) not in " ".join(command)
        assert "--upgrade" in lock.command(Path("uv"), common.LOCK, upgrade=True)

    @pytest.mark.parametrize(
        "line", ["--index-url https://index.invalid/", "x @ file.whl", f"# via {ROOT}"]
    )
    def test_a_host_or_a_path_is_refused(self, line: str) -> None:
        fault = lock.address_fault(f"a==1\n{line}\n", ROOT)
        assert "line 2" in fault
        assert "index.invalid" not in fault

    def test_a_clean_lock_is_taken(self) -> None:
        assert lock.address_fault("a==1 --hash=sha256:00\n    # via b\n", ROOT) == ""


def test_packaging_is_a_folder_and_not_a_package() -> None:
    assert not (FOLDER / "__init__.py").exists()
    modules = {path.stem for path in FOLDER.glob("*.py")}
    assert all(name == "start" or name.startswith("start_") for name in modules), modules


def test_ci_runs_the_same() -> None:
    script = ROOT / ".ci" / "run"
    assert script.read_text(encoding="utf-8").startswith("#!")
    assert "exec python3 packaging/start.py test\n" in script.read_text(encoding="utf-8")


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no executable bit")
def test_the_ci_script_is_executable() -> None:
    assert (ROOT / ".ci" / "run").stat().st_mode & 0o111 == 0o111
