"""Pages and tutorials say what the program says.

In a page, a block after a line that ends with `NAME`: is the file of that name; another xml block is studio.xml. A console block holds commands after $ with all that they print, where a line "..."
stands for any lines, " ..." at the end of one for the rest of it, and "$ echo $?" for the status of the command before. A text block is a part of the report on
studio.xml, and a json block is a value somewhere in its JSON.
"""

import json
import re
import shlex

import program
from program import Case


def blocks(page):
    text = (program.SOURCE / page).read_text()
    return re.findall(r"^```(\w+)\n(.*?)^```$", text, re.M | re.S)


def named_blocks(page):
    """The same with the name of the file that each is, or an empty one."""
    text = (program.SOURCE / page).read_text()
    return re.findall(r"(?:`([\w./-]+)`:\n+)?^```(\w*)\n(.*?)^```$", text, re.M | re.S)


def values(value):
    """The value and all values in it."""
    yield value
    for each in value.values() if isinstance(value, dict) else value if isinstance(value, list) else []:
        yield from values(each)


def matches(lines, wanted):
    """Whether the lines are the wanted ones, "..." standing for any."""
    if not wanted:
        return not lines
    if wanted[0] == "...":
        return any(matches(lines[at:], wanted[1:]) for at in range(len(lines) + 1))
    return bool(lines) and same(lines[0], wanted[0]) and matches(lines[1:], wanted[1:])


def same(line, wanted):
    return line.startswith(wanted[:-3]) if wanted.endswith(" ...") else line == wanted


class Pages(Case):
    def try_console(self, block, **more):
        status = None
        for command, output in re.findall(r"^\$ (.+)\n((?:(?!\$ ).*\n)*)", block, re.M):
            wanted = output.splitlines()
            if command == "echo $?":
                self.assertEqual(wanted, [str(status)])
                continue
            name, *arguments = shlex.split(command)
            self.assertEqual(name, "raceward")
            done = self.run_program(*arguments, **more)
            status = done.status
            printed = (done.out + done.err).splitlines()
            self.assertTrue(matches(printed, wanted), f"{command}\nprinted\n{done.out}{done.err}\nwanted\n{output}")

    def try_page(self, page):
        counts = {"xml": 0, "console": 0, "text": 0, "json": 0}
        for name, kind, block in named_blocks(page):
            counts[kind] = counts.get(kind, 0) + 1
            if name:
                (self.folder / name).parent.mkdir(parents=True, exist_ok=True)
                self.file(name, block)
            elif kind == "xml":
                self.file("studio.xml", block)
            elif kind == "console":
                self.try_console(block)
            elif kind == "text":
                report = self.run_program("check", "studio.xml").out.splitlines()
                self.assertTrue(matches(report, ["...", *block.splitlines(), "..."]), block)
            elif kind == "json":
                every = [value for command in ("check", "figures") for value in
                         values(json.loads(self.run_program(command, "studio.xml", "--format", "json").out))]
                self.assertTrue(json.loads(block) in every, block)
        return counts

    def test_the_page_of_the_command(self):
        counts = self.try_page("docs/command.md")
        self.assertGreater(counts["console"], 4)

    def test_the_page_of_suites(self):
        counts = self.try_page("docs/suites.md")
        self.assertEqual(counts["console"], 2)

    def test_the_page_of_the_report(self):
        counts = self.try_page("docs/report.md")
        self.assertGreater(counts["text"], 4)
        self.assertGreater(counts["json"], 2)

    def test_the_excerpt_of_the_readme(self):
        consoles = [block for kind, block in blocks("README.md") if kind == "console"]
        self.assertEqual(len(consoles), 1)
        self.try_console(consoles[0], cwd=program.SOURCE)

    def test_every_option_and_status_stands_on_the_page(self):
        text = (program.SOURCE / "docs/command.md").read_text()
        for command in [[], ["check"], ["figures"], ["rules"], ["rulesets"], ["suite"]]:
            for option in re.findall(r"--[\w-]+(?= |,|$)", self.run_program(*command, "--help").out, re.M):
                self.assertIn(f"`{option}", text)
        for status in range(6):
            self.assertRegex(text, rf"(?m)^\| {status} \|")

    def test_every_key_of_the_schemas_stands_on_the_page(self):
        text = (program.SOURCE / "docs/report.md").read_text()
        for name in "report", "figures":
            schema = program.schema(name)
            for part in [schema, *schema["$defs"].values()]:
                for key in part.get("properties", {}):
                    self.assertIn(f"`{key}`", text)
