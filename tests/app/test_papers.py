#!/usr/bin/env python3
"""The manual page and the completions, held against the tables of the command line and tried in their shells.

    test_papers.py CAREEN SOURCE_FOLDER BUILD_FOLDER
"""
import pathlib
import re
import shutil
import subprocess
import sys

import cli
from cli import SOURCE, expect

BUILT = pathlib.Path(sys.argv[3]).resolve() / "packaging"
COMMANDS = re.findall(r"^COMMAND\((\w+),", (SOURCE / "src/app/commands.def").read_text(), re.M)
OPTIONS = re.findall(r'^OPTION\(\w+, [^,]+, "([a-z-]+)"', (SOURCE / "src/app/options.def").read_text(), re.M)
PICTURES = re.findall(r'^PICTURE\(\w+, "([a-z-]+)"', (SOURCE / "src/draw/pictures.def").read_text(), re.M)


def shell(program, script, drop="$^"):
    """The words the script prints, without what drop matches on each line."""
    if shutil.which(program) is None:
        return None
    done = subprocess.run([program, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=30, check=False)
    expect(done.returncode == 0 and not done.stderr, f"{program}: {done.stderr.decode()}")
    return re.sub(drop, "", done.stdout.decode(), flags=re.M).split()


def complete_in_bash(line, word):
    """What bash offers after the words of the line, the last being typed."""
    words = [*line.split(), word]
    quoted = " ".join(f"'{w}'" for w in words)
    return shell("bash", f"source '{BUILT}/careen'; COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}; _careen; "
                         'printf "%s\\n" "${COMPREPLY[@]}"')


def complete_in_fish(line):
    return shell("fish", f"set fish_complete_path; source '{BUILT}/careen.fish'; complete -C'{line}'", r"\t.*")


def test_tables_are_there(_folder):
    expect(len(COMMANDS) > 8 and len(OPTIONS) > 10 and len(PICTURES) > 5, "the tables were not read")


def test_manual_names_everything(_folder):
    text = (BUILT / "careen.1").read_text()
    for command in COMMANDS:
        expect(re.search(rf"^\.B {command}\b", text, re.M), f"{command} is not in the manual")
    for option in OPTIONS:
        expect("\\-\\-" + option.replace("-", "\\-") in text, f"--{option} is not in the manual")


def test_manual_is_sound(_folder):
    if shutil.which("groff") is None:
        return
    done = subprocess.run(["groff", "-ww", "-z", "-man", str(BUILT / "careen.1")], stderr=subprocess.PIPE, check=False)
    expect(done.returncode == 0 and not done.stderr, done.stderr.decode())


def test_bash_offers_commands(_folder):
    expect(set(COMMANDS) <= set(complete_in_bash("careen", "")), "commands missing in bash")
    expect(complete_in_bash("careen", "hi") == ["history"], str(complete_in_bash("careen", "hi")))


def test_bash_offers_options_of_the_command(_folder):
    offered = complete_in_bash("careen edit", "--")
    expect("--why" in offered and "--stage" in offered and "--restore" not in offered, str(offered))
    expect(complete_in_bash("careen check --stage", "") == ["now", "done"], "stages")


def test_bash_offers_pictures(_folder):
    expect(complete_in_bash("careen draw x.yaml", "") == PICTURES, str(complete_in_bash("careen draw x.yaml", "")))


def test_bash_offers_files(folder):
    (folder.path / "other.txt").write_text("")
    offered = complete_in_bash("careen check", f"{folder.path}/")
    expect(offered == [f"{folder.path}/testbox.yaml"], str(offered))


def test_fish_offers(_folder):
    if shutil.which("fish") is None:
        return
    expect(set(COMMANDS) <= set(complete_in_fish("careen ")), str(complete_in_fish("careen ")))
    expect("--why" in complete_in_fish("careen edit x.yaml --"), "options missing in fish")
    expect(set(PICTURES) <= set(complete_in_fish("careen draw x.yaml ")), "pictures missing in fish")


def test_zsh_names_everything(_folder):
    text = (BUILT / "_careen").read_text()
    for command in COMMANDS:
        expect(f"'{command}:" in text and f"    {command})" in text, f"{command} is missing in zsh")
    for option in OPTIONS:
        expect(f"--{option}" in text, f"--{option} is missing in zsh")
    if shutil.which("zsh") is not None:
        done = subprocess.run(["zsh", "-n", str(BUILT / "_careen")], stderr=subprocess.PIPE, check=False)
        expect(done.returncode == 0 and not done.stderr, done.stderr.decode())


if __name__ == "__main__":
    cli.main(sys.modules[__name__])
