"""Pages that are followed to the letter.

A block after a line that ends with `NAME`: is the file of that name. A console block holds commands after $ with all that they
print, where a line "..." stands for any lines, " ..." at the end of one for the rest of it, and "$ echo $?" for the status of the
command before.
"""

import os
import pathlib
import re
import shlex
import subprocess


def named_blocks(text):
    """(name of the file that a block is, or "", kind, block) of a page."""
    return re.findall(r"(?:`([\w./-]+)`:\n+)?^```(\w*)\n(.*?)^```$", text, re.M | re.S)


def commands_of(block):
    """(command, lines that it prints) of a console block."""
    return [(command, output.splitlines()) for command, output in
            re.findall(r"^\$ (.+)\n((?:(?!\$ ).*\n)*)", block, re.M)]


def matches(lines, wanted):
    """Whether the lines are the wanted ones, "..." standing for any."""
    if not wanted:
        return not lines
    if wanted[0] == "...":
        return any(matches(lines[at:], wanted[1:]) for at in range(len(lines) + 1))
    return bool(lines) and same(lines[0], wanted[0]) and matches(lines[1:], wanted[1:])


def same(line, wanted):
    return line.startswith(wanted[:-3]) if wanted.endswith(" ...") else line == wanted


class Unlike(Exception):
    """What a page says is not what happens."""


def follow(page, folder, env, known=("raceward", "rm")):
    """Does what a tutorial says, in a folder of its own; returns how many commands it ran. Raises Unlike."""
    start = here = pathlib.Path(folder).resolve()
    status = ran = 0
    for name, kind, block in named_blocks(pathlib.Path(page).read_text()):
        if name:
            (start / name).parent.mkdir(parents=True, exist_ok=True)
            (start / name).write_text(block)
        if kind != "console":
            continue
        for command, wanted in commands_of(block):
            words = shlex.split(command)
            if words[0] == "cd":
                here = (here / words[1]).resolve()
                if not here.is_dir() or start not in (here, *here.parents):
                    raise Unlike(f"{command}: no such folder")
                continue
            if command == "echo $?":
                if wanted != [str(status)]:
                    raise Unlike(f"the command before ended with {status}, and not with {wanted}")
                continue
            if words[0] not in known:
                raise Unlike(f"{command}: a tutorial uses {' '.join(known)}")
            done = subprocess.run(words, cwd=here, env={**os.environ, **env}, capture_output=True, text=True,
                                  check=False, timeout=300)
            status = done.returncode
            ran += 1
            if status != 0 and words[0] != "raceward":
                raise Unlike(f"{command}: ended with {status}\n{done.stdout}{done.stderr}")
            if not matches((done.stdout + done.stderr).splitlines(), wanted):
                wished = "\n".join(wanted)
                raise Unlike(f"{command}\nprinted\n{done.stdout}{done.stderr}\nwanted\n{wished}\n")
    return ran
