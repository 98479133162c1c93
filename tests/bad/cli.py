#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The command line in bad weather: cli.py TOOL [--no-limits]

What is checked is the contract of the exit status, of the two output streams
and of the file behind -o; wording is no interface, and only a word of it is
looked for where the user could not go on without it.

SOURCE posix-xbd-12: XBD 12.2, guidelines 3 to 10 (letters grouped, values,
"--", "-").  SOURCE gnu-standards: "--version", "--help".
SOURCE source-date-epoch: decimal seconds since 1970.  The rest is common
practice, no source.
"""
import json
import os
import resource
import signal
import socket
import stat
import subprocess
import sys
import tempfile
import threading
import time

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TOOL = os.path.abspath(sys.argv[1])
KIT = TOP + "/demo/tractor.kit.yaml"
BENCH = TOP + "/demo/tractor.bench.yaml"
AUDIT = ["audit", KIT, BENCH]
NO_LIMITS = "--no-limits" in sys.argv	# for builds with sanitizers
CASES = []


def case(f):
    CASES.append(f)
    return f


def run(*args, env=None, **more):
    e = {"PATH": "/usr/bin:/bin", "LANG": "C"}
    e.update(env or {})
    more.setdefault("stdin", subprocess.DEVNULL)
    if "stdout" not in more:
        more["stdout"] = subprocess.PIPE
    if "stderr" not in more:
        more["stderr"] = subprocess.PIPE
    return subprocess.run([TOOL] + list(args), env=e, timeout=60, **more)


def expect(status, *args, says=None, **more):
    """Run; check the status, that trouble is told on the right stream, and
    that nothing raw comes out.  Returns what was printed."""
    p = run(*args, **more)
    assert p.returncode == status, \
        "%r: exit %d, not %d: %s" % (args[:6], p.returncode, status, p.stderr)
    if status >= 2:
        assert p.stderr is None or p.stderr, "%r: exit %d in silence" % (args, status)
        assert not p.stdout, "%r: exit %d, yet %r" % (args, status, p.stdout[:200])
    if says:
        assert says.encode() in p.stderr, "%r: %r lacks %r" % (args, p.stderr, says)
    for out in (p.stdout, p.stderr):
        if out:
            out.decode("utf-8")
            assert b"\x1b" not in out and b"\x07" not in out, "raw control: %r" % out
    return p


def audit_status():
    """0 or 1, whatever the demo comes to."""
    p = run(*AUDIT)
    assert p.returncode in (0, 1), "%r" % p.stderr
    return p.returncode


# ---- options ------------------------------------------------------------

@case
def help_is_heard_everywhere():
    for command in ("audit", "check", "gauge"):
        outs = {run(*a).stdout for a in ((command, "-h"), (command, "--help"),
                                         ("help", command), ("-h", command),
                                         ("--help", "--nonsense", command))}
        assert len(outs) == 1 and b"usage" in outs.pop()
    p = expect(0, "--help")
    assert p.stdout.startswith(b"usage: kitmuster") and not p.stderr
    assert b"Bugs" in p.stdout.splitlines()[-1]
    assert run("help").stdout == p.stdout == run("-qh").stdout


@case
def version_is_the_last_word_of_the_first_line():
    p = expect(0, "--version")
    first = p.stdout.decode().splitlines()[0].split(" ")
    assert first[0] == "kitmuster" and len(first) == 2 and first[1][0].isdigit()
    q = subprocess.run(["another-name", "--version"], executable=TOOL,
                       stdout=subprocess.PIPE)
    assert q.stdout == p.stdout


@case
def options_are_read_as_posix_says():
    with tempfile.TemporaryDirectory() as t:
        outs = []
        for i, args in enumerate((["-qo", "F"], ["-q", "-o", "F"], ["-oF", "-q"],
                                  ["--quiet", "--output=F"], ["--output", "F", "-q"])):
            f = "%s/%d" % (t, i)
            args = [a.replace("F", f) for a in args]
            before = run(*args, *AUDIT)
            assert before.returncode == audit_status() and not before.stdout
            outs.append(open(f, "rb").read())
            os.unlink(f)
            assert run(*AUDIT, *args).returncode == before.returncode
            outs.append(open(f, "rb").read())
        assert len(set(outs)) == 1 and outs[0]
        os.symlink(KIT, t + "/-q")
        os.symlink(BENCH, t + "/b.yaml")
        assert run("check", "--", "-q", "b.yaml", cwd=t).returncode == 0
        assert b"good" in run("check", "--", "-q", "b.yaml", cwd=t).stdout


@case
def long_options_are_never_shortened():
    for word in ("--outpu", "--js", "--form=json", "--qui", "--versio", "--hel", "--k"):
        expect(2, *AUDIT, word, says=word.split("=")[0])
    expect(2, *AUDIT, "--fromat", "json", says="--format")
    expect(2, *AUDIT, "--quiet=yes", says="--quiet")
    expect(2, *AUDIT, "-Z", says="-Z")
    expect(2, "check", KIT, "--sheet", "slots", says="--sheet")


@case
def values_are_checked():
    for args in (["--sheet", "nonsense"], ["--format", "nonsense"], ["--format="],
                 ["--sheet", ""], ["--standard", "nearly"], ["--today", "yesterday"],
                 ["--today", "2026-02-30"], ["--today", ""], ["--color=sometimes"],
                 ["--stdin-form", "xml"], ["--stdin-form", "csv"], ["-o"], ["--kit"],
                 ["--kit", ""], ["--kit", "no-such-kit"], ["-o", ""],
                 ["--sheet", "slots", "--sheet", "matches"]):
        expect(2, *AUDIT, *args)
    expect(2, "audit", "--sheet", "slot", KIT, says="slots")


@case
def a_machine_that_no_kit_covers_is_refused():
    with tempfile.TemporaryDirectory() as t:
        f = t + "/machine.yaml"
        with open(f, "w", encoding="utf-8") as out:
            out.write("machine: {serial: 900}\n"
                      "kit:\n  id: k\n  serials: {from: 1, to: 800}\n"
                      "  slots: [{id: S1, tool: hammer}]\n")
        p = expect(2, "audit", f, says="no-kit-fits")
        assert f.encode() + b":1:10: error: " in p.stderr
        assert b"'k', 100 off" in p.stderr      # 900 - 800
        expect(2, "audit", "--kit", "kk", f, says="no-such-kit")
        p = expect(1, "audit", "--kit", "k", f, says="outside-range")
        assert b"range of kit 'k' by 100" in p.stderr


@case
def a_record_against_the_kit_is_a_warning():
    with tempfile.TemporaryDirectory() as t:
        f = t + "/machine.yaml"
        with open(f, "w", encoding="utf-8") as out:
            out.write("machine: {serial: 700, built: 1956, market: export}\n"
                      "kit:\n  id: k\n  serials: {from: 1, to: 800}\n"
                      "  years: 1954\n  market: home\n"
                      "  slots: [{id: S1, tool: hammer}]\n")
        p = expect(1, "audit", f, says="points-elsewhere")
        assert p.stderr.count(b":1:10: warning: ") == 2     # date and market


@case
def a_bench_without_a_kit_is_told():
    with tempfile.TemporaryDirectory() as t:
        f = os.path.join(t, "b.yaml")
        with open(f, "w") as out:
            out.write("bench: [{id: T, tool: tyre lever}]\n")
        assert expect(1, "audit", f, says="no-kit").stdout == b""
        # what is on the bench can be listed all the same
        assert b"tyre lever" in run("audit", "--sheet", "haves", f).stdout


@case
def commands_are_exact_and_a_near_one_is_named():
    expect(2, "audi", KIT, says="audit")
    expect(2, "chekc", KIT, says="check")
    expect(2, "a", KIT)
    expect(2, "", KIT)
    expect(2, "help", "chekc", says="check")
    expect(2, KIT)


@case
def no_operands_means_a_short_usage():
    for args in ([], ["audit"], ["check"], ["gauge"], ["-q"], ["--"]):
        p = expect(2, *args, says="usage")
        assert len(p.stderr.splitlines()) <= 5


@case
def an_empty_argument_vector_is_survived():
    # from a child, since the call replaces the process
    script = ("import ctypes,sys; c=ctypes.CDLL(None); n=ctypes.c_char_p*1; "
              "c.execve(sys.argv[1].encode(), n(None), n(None)); sys.exit(9)")
    p = subprocess.run([sys.executable, "-c", script, TOOL], stdin=subprocess.DEVNULL,
                       stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert p.returncode == 2 and b"usage" in p.stderr, (p.returncode, p.stderr)


@case
def a_hundred_thousand_operands_are_survived():
    begun = time.monotonic()
    expect(2, "check", *("n%d" % i for i in range(100000)), says="10000 files")
    p = run("check", *("n%d" % i for i in range(10000)))
    assert p.returncode == 3 and len(p.stderr.splitlines()) < 100, p.stderr[-300:]
    assert time.monotonic() - begun < 20


# ---- inputs --------------------------------------------------------------

@case
def what_cannot_be_read_is_named_with_its_reason():
    with tempfile.TemporaryDirectory() as t:
        os.symlink(t + "/loop", t + "/loop")
        s = socket.socket(socket.AF_UNIX)
        s.bind(t + "/socket")
        for path, why in ((t + "/missing", "No such file"), (t, "directory"),
                          (t + "/loop", "symbolic"), (t + "/socket", "No such device"),
                          ("", "No such file"), (t + "/" + "x" * 4095, "too long")):
            expect(3, "check", path, says=why)
            expect(3, "audit", KIT, path, says=why)
        s.close()
        expect(2, "check", "/dev/null", says="empty")
        os.chmod(t, 0o755)
        open(t + "/locked", "w").close()
        os.chmod(t + "/locked", 0)
        as_nobody = {"user": 65534} if os.getuid() == 0 else {}
        if can_run_as(as_nobody):
            expect(3, "check", t + "/locked", says="Permission", **as_nobody)


def can_run_as(who):
    try:
        return run("--version", **who).returncode == 0
    except (PermissionError, OSError):
        return False


@case
def a_bad_file_beside_a_missing_one_is_still_told():
    with tempfile.TemporaryDirectory() as t:
        with open(t + "/bad.yaml", "w") as f:
            f.write("kit: {\n")
        p = expect(3, "check", t + "/missing.yaml", t + "/bad.yaml")
        assert b"missing.yaml" in p.stderr and b"bad.yaml:" in p.stderr


@case
def odd_file_names_are_shown_escaped():
    with tempfile.TemporaryDirectory() as t:
        for name in (b"a\nb.yaml", b"a\x1b[31mb.yaml", b"caf\xe9.yaml", b"\xe2\x80\xaee.yaml",
                     b"tab\t.yaml"):
            path = t.encode() + b"/" + name
            with open(path, "w") as f:
                f.write("- not a mapping\n")
            p = expect(2, "check", path)
            assert len(p.stderr.splitlines()) <= 4 and b"\\" in p.stderr, p.stderr
            assert b"\xe2\x80\xae" not in p.stderr and b"\t" not in p.stderr
            expect(3, "check", path + b".missing")
        p = run("check", "--json", path)
        assert p.returncode == 2 and json.loads(p.stdout)["errors"] == 1


@case
def one_file_twice_is_refused():
    with tempfile.TemporaryDirectory() as t:
        os.symlink(KIT, t + "/link.yaml")
        expect(2, "check", KIT, KIT, says="twice")
        expect(2, "check", KIT, t + "/link.yaml", says="same file")
        expect(2, "check", KIT, TOP + "/demo/../demo/tractor.kit.yaml", says="same file")
        expect(2, "check", "-", "-", says="twice")
        with open(KIT) as f:
            expect(2, "check", "-", KIT, says="same file", stdin=f)


@case
def standard_input_and_fifos_are_read():
    with open(KIT) as f:
        p = expect(0, "check", "-", stdin=f)
        assert b"good" in p.stdout
    with open(KIT) as f:
        a = run("audit", "-", BENCH, stdin=f)
    b = run(*AUDIT)
    assert (a.returncode, a.stdout) == (b.returncode, b.stdout)
    with tempfile.TemporaryDirectory() as t:
        os.mkfifo(t + "/fifo")

        def feed():
            with open(t + "/fifo", "wb") as out, open(KIT, "rb") as f:
                out.write(f.read())

        feeder = threading.Thread(target=feed)
        feeder.start()
        c = run("audit", t + "/fifo", BENCH)
        feeder.join()
    assert (c.returncode, c.stdout) == (b.returncode, b.stdout)


@case
def mistakes_in_standard_input_are_placed_there():
    p = run("check", "-", input=b"kit: [\n", stdin=None)
    assert p.returncode == 2 and b"<stdin>:" in p.stderr


# ---- descriptors, full disks, limits -------------------------------------

def closing(fd):
    return {"preexec_fn": lambda: os.close(fd)}


@case
def closed_descriptors_end_in_status_3():
    for args in (AUDIT, ["check", KIT], ["--help"], ["--version"], ["gauge", "13 mm"]):
        p = run(*args, **closing(1))
        assert p.returncode == 3 and p.stderr, (args, p.returncode)
    p = run("check", "-", **closing(0))
    assert p.returncode == 3 and b"<stdin>" in p.stderr
    for args in (["nonsense"], ["check", "missing"], []):
        assert run(*args, **closing(2)).returncode == 3, args
    assert run("check", KIT, **closing(0)).returncode == 0	# not asked for


@case
def a_closed_stderr_never_lets_a_message_into_a_file():
    with tempfile.TemporaryDirectory() as t:
        run(*AUDIT, "-o", t + "/out", **closing(2))
        with open(t + "/out", "rb") as f:
            assert f.read() == run(*AUDIT).stdout
        with open(t + "/bad.yaml", "w") as f:
            f.write("kit: [\n")
        run("audit", t + "/bad.yaml", "-o", t + "/none", **closing(2))
        assert sorted(os.listdir(t)) == ["bad.yaml", "out"]
        with open(t + "/bad.yaml") as f:
            assert f.read() == "kit: [\n"


@case
def a_full_device_is_told():
    for args in (AUDIT, ["check", KIT], ["check", "--json", KIT], ["--help"],
                 ["--version"], ["gauge", "13 mm"], AUDIT + ["--json"]):
        with open("/dev/full", "wb") as full:
            p = run(*args, stdout=full)
        assert p.returncode == 3 and b"No space" in p.stderr, (args, p.returncode)
    p = expect(3, *AUDIT, "-o", "/dev/full", says="No space")


@case
def a_closed_pipe_kills_quietly():
    for ignored in (False, True):
        r, w = os.pipe()
        os.close(r)
        p = subprocess.Popen([TOOL, "--help"], stdout=w, stderr=subprocess.PIPE,
                             restore_signals=not ignored)
        os.close(w)
        assert p.communicate()[1] == b""
        # Python itself ignores SIGPIPE and hands that down if not restored
        assert p.returncode == (3 if ignored else -signal.SIGPIPE), p.returncode


@case
def a_file_size_limit_is_told():
    limit = {"preexec_fn": lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))}
    with tempfile.TemporaryDirectory() as t:
        with open(t + "/out", "w") as f:
            f.write("old\n")
        expect(3, *AUDIT, "-o", t + "/out", says="too large", **limit)
        unchanged(t, "old\n")


@case
def little_memory_is_told():
    if NO_LIMITS:
        return
    limit = {"preexec_fn": lambda: resource.setrlimit(resource.RLIMIT_AS, (48 << 20,) * 2)}
    with tempfile.TemporaryDirectory() as t:
        with open(t + "/b.yaml", "w") as f:
            f.write("bench:\n")
            for i in range(400000):
                f.write("  - {id: T-%d, tool: pliers, length: 150 mm, mark: M%d}\n" % (i, i))
        expect(3, "check", t + "/b.yaml", says="memory", **limit)


# ---- the file behind -o --------------------------------------------------

def unchanged(folder, text, name="out"):
    assert os.listdir(folder) == [name], os.listdir(folder)
    with open(folder + "/" + name) as f:
        assert f.read() == text


@case
def a_failure_leaves_the_old_file():
    with tempfile.TemporaryDirectory() as t:
        with open(t + "/out", "w") as f:
            f.write("old\n")
        for args in (["missing.yaml"], ["/dev/null"], ["--kit", "nonsense", KIT, BENCH],
                     ["--sheet", "nonsense", KIT, BENCH]):
            assert run("audit", *args, "-o", t + "/out").returncode in (2, 3)
            unchanged(t, "old\n")
            assert run("audit", *args, "-o", t + "/new").returncode in (2, 3)
            unchanged(t, "old\n")


@case
def a_success_replaces_it_and_keeps_its_mode():
    sheet = run(*AUDIT).stdout
    with tempfile.TemporaryDirectory() as t:
        run(*AUDIT, "-o", t + "/out", umask=0o027)
        assert stat.S_IMODE(os.stat(t + "/out").st_mode) == 0o640
        os.chmod(t + "/out", 0o604)
        os.link(t + "/out", t + "/second-name")
        run(*AUDIT, "--json", "-o", t + "/second-name")
        assert stat.S_IMODE(os.stat(t + "/second-name").st_mode) == 0o604
        with open(t + "/out", "rb") as f:	# a new file, not new bytes in the old
            assert f.read() == sheet
        os.symlink("out", t + "/link")
        run(*AUDIT, "--json", "-o", t + "/link")
        assert os.path.islink(t + "/link")
        with open(t + "/out", "rb") as f:
            json.loads(f.read())
        assert sorted(os.listdir(t)) == ["link", "out", "second-name"]
    assert run(*AUDIT, "-o", "-").stdout == sheet
    assert run(*AUDIT, "-o", "/dev/stdout").stdout == sheet


@case
def places_that_cannot_be_written_are_named():
    with tempfile.TemporaryDirectory() as t:
        expect(3, *AUDIT, "-o", t, says="directory")
        expect(3, *AUDIT, "-o", t + "/none/out", says="No such file")
        expect(3, *AUDIT, "-o", t + "/" + "x" * 300, says="too long")
        os.symlink(t + "/nowhere", t + "/dangling")
        expect(3, *AUDIT, "-o", t + "/dangling")
        assert os.listdir(t) == ["dangling"]
    with tempfile.TemporaryDirectory() as t:
        with open(KIT) as f:
            text = f.read()
        with open(t + "/out", "w") as f:
            f.write(text)
        expect(2, "audit", t + "/out", BENCH, "-o", t + "/out", says="input")
        unchanged(t, text)
        os.chmod(t, 0o555)
        as_nobody = {"user": 65534} if os.getuid() == 0 else {}
        if can_run_as(as_nobody):
            expect(3, *AUDIT, "-o", t + "/new", says="Permission", **as_nobody)
            expect(3, *AUDIT, "-o", t + "/out", says="Permission", **as_nobody)
        unchanged(t, text)
        os.chmod(t, 0o755)


@case
def signals_leave_nothing_behind():
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        with tempfile.TemporaryDirectory() as t:
            os.mkdir(t + "/d")
            with open(t + "/d/out", "w") as f:
                f.write("old\n")
            os.mkfifo(t + "/fifo")
            # not ignored, whatever this script was started under
            p = subprocess.Popen([TOOL, "audit", t + "/fifo", BENCH, "-o", t + "/d/out"],
                                 preexec_fn=lambda: signal.signal(number, signal.SIG_DFL))
            for _ in range(500):		# it waits for the FIFO's writer
                if len(os.listdir(t + "/d")) == 2:
                    break
                time.sleep(0.01)
            assert len(os.listdir(t + "/d")) == 2, "no new file is being written"
            begun = time.monotonic()
            p.send_signal(number)
            assert p.wait(10) == -number, p.returncode
            assert time.monotonic() - begun < 1
            unchanged(t + "/d", "old\n")


@case
def a_signal_that_was_ignored_stays_so():
    with tempfile.TemporaryDirectory() as t:
        os.mkfifo(t + "/fifo")
        p = subprocess.Popen([TOOL, "check", t + "/fifo"], stdout=subprocess.PIPE,
                             preexec_fn=lambda: signal.signal(signal.SIGHUP, signal.SIG_IGN))
        time.sleep(0.2)
        p.send_signal(signal.SIGHUP)
        with open(t + "/fifo", "wb") as out, open(KIT, "rb") as f:
            out.write(f.read())
        assert p.wait(10) == 0
        p.stdout.close()


# ---- the world around ----------------------------------------------------

@case
def the_environment_changes_nothing():
    wanted = run(*AUDIT)
    for env in ({"COLUMNS": "0"}, {"COLUMNS": "-1"}, {"COLUMNS": "99999999999"},
                {"COLUMNS": "40"}, {"COLUMNS": "x"}, {"TERM": "dumb"}, {"TERM": "xterm"},
                {"LANG": "xx_YY"}, {"LC_ALL": "tr_TR.UTF-8"}, {"LC_ALL": "de_DE.UTF-8"},
                {"TZ": "Pacific/Kiritimati"}, {"TZ": "nonsense"}, {"HOME": "nowhere"},
                {"XDG_CONFIG_HOME": "../x"}, {"NO_COLOR": "1"}, {"CLICOLOR": "1"},
                {"CLICOLOR_FORCE": "0"}, {"POSIXLY_CORRECT": "1"}):
        p = run(*AUDIT, env=env)
        assert (p.returncode, p.stdout, p.stderr) == \
            (wanted.returncode, wanted.stdout, wanted.stderr), env
    p = run("audit", os.path.basename(KIT), os.path.basename(BENCH), cwd=TOP + "/demo")
    assert p.stdout == wanted.stdout, "the folder shows"


@case
def colour_follows_the_options_then_the_environment():
    def coloured(*args, **env):
        return b"\x1b[" in run(*AUDIT, *args, env=env).stdout
    if not coloured("--color"):
        raise AssertionError("--color shows no colour at all")
    assert coloured("--color=always", NO_COLOR="1")
    assert coloured(CLICOLOR_FORCE="1") and coloured(FORCE_COLOR="1")
    for off in (coloured(), coloured("--no-color", FORCE_COLOR="1"),
                coloured("--color=never", CLICOLOR_FORCE="1"),
                coloured(NO_COLOR="1", CLICOLOR_FORCE="1"),
                coloured("--color", "--no-color"), coloured("--color=auto")):
        assert not off
    assert coloured("--no-color", "--color")


@case
def the_epoch_variable_is_read_strictly():
    for bad in ("abc", "-1", "+1", " 1", "1.5", "0x10", "99999999999999999999",
                "253402300800", ""):
        expect(2, *AUDIT, env={"SOURCE_DATE_EPOCH": bad}, says="SOURCE_DATE_EPOCH")
    # 1775001600 is 2026-04-01 00:00 UTC: 20544 days of 86400 s (56 years of
    # 365 days are 20440, 14 leap days, 90 days of January to March)
    for seconds in ("1775001600", "1775087999"):
        for zone in ("UTC", "Pacific/Kiritimati"):
            a = run(*AUDIT, env={"SOURCE_DATE_EPOCH": seconds, "TZ": zone})
            b = run(*AUDIT, "--today", "2026-04-01")
            assert (a.returncode, a.stdout) == (b.returncode, b.stdout)
    p = run(*AUDIT, "--today", "2026-04-01", env={"SOURCE_DATE_EPOCH": "abc"})
    assert p.returncode == audit_status(), "--today goes before the variable"


@case
def check_counts_and_keeps_quiet():
    p = expect(0, "check", KIT, BENCH)
    assert p.stdout.startswith(b"2 files, ") and p.stdout.endswith(b"1 kit: good\n"), p.stdout
    assert not expect(0, "check", "-q", KIT, BENCH).stdout
    p = expect(0, "check", "--json", KIT, BENCH)
    assert json.loads(p.stdout)["errors"] == 0


def main():
    failed = 0
    for f in CASES:
        why = failure(f)
        if why:
            failed += 1
            print("cli: %s: %s" % (f.__name__.replace("_", " "), why))
    if not failure(lambda: expect(0, "nonsense")):
        print("cli: a case that must fail does not")
        failed += 1
    print("cli: %d passed, %d failed" % (len(CASES) - failed, failed))
    return 1 if failed or not CASES else 0


def failure(f):
    try:
        f()
    except (AssertionError, OSError, UnicodeError, ValueError,
            subprocess.SubprocessError) as e:
        tb = e.__traceback__
        while tb.tb_next and tb.tb_next.tb_frame.f_code.co_filename == __file__:
            tb = tb.tb_next
        return "line %d: %s" % (tb.tb_lineno, (str(e) or repr(e))[:1500])
    return ""


if __name__ == "__main__":
    sys.exit(main())
