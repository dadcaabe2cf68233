"""Pages and tutorials say what the program says.

In a page, an xml block without a name is studio.xml; named blocks and console blocks are as in tutorial.py. A text block is a
part of the report on studio.xml, and a json block is a value somewhere in its JSON.
"""

import json
import os
import re
import shlex

import program
from program import Case
from tutorial import Unlike, commands_of, follow, matches, named_blocks


def blocks(page):
    text = (program.SOURCE / page).read_text()
    return re.findall(r"^```(\w+)\n(.*?)^```$", text, re.M | re.S)


def values(value):
    """The value and all values in it."""
    yield value
    for each in value.values() if isinstance(value, dict) else value if isinstance(value, list) else []:
        yield from values(each)


class Pages(Case):
    def try_console(self, block, **more):
        status = None
        for command, wanted in commands_of(block):
            if command == "echo $?":
                self.assertEqual(wanted, [str(status)])
                continue
            name, *arguments = shlex.split(command)
            self.assertEqual(name, "raceward")
            done = self.run_program(*arguments, **more)
            status = done.status
            printed = (done.out + done.err).splitlines()
            self.assertTrue(matches(printed, wanted),
                            f"{command}\nprinted\n{done.out}{done.err}\nwanted\n" + "\n".join(wanted))

    def try_page(self, page):
        counts = {"xml": 0, "console": 0, "text": 0, "json": 0}
        for name, kind, block in named_blocks((program.SOURCE / page).read_text()):
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

    def test_tutorials_are_followed_to_the_letter(self):
        (self.folder / "bin").mkdir()
        (self.folder / "bin/raceward").symlink_to(program.PATH)
        env = {"PATH": f"{self.folder / 'bin'}:{os.environ['PATH']}"}
        for page in sorted((program.SOURCE / "docs/tutorials").glob("*.md")):
            if "find_package" in page.read_text():
                continue  # it needs an installed Raceward: tests/install follows it
            with self.subTest(page=page.name):
                folder = self.folder / page.stem
                folder.mkdir()
                try:
                    self.assertGreater(follow(page, folder, env), 4)
                except Unlike as error:
                    self.fail(str(error))

    def test_the_page_of_documents_lists_the_kinds_of_equipment(self):
        page = (program.SOURCE / "docs/document.md").read_text()
        listed = page[page.index("The words that NFPA 70 rulesets know:"):]
        listed = re.findall("`([^`]+)`", listed[:listed.index(".")])
        rows = (program.SOURCE / "rulesets/nec/2023/tables/protection-otherwise.csv").read_text().splitlines()
        known = [row.split(",")[0] for row in rows if row and not row.startswith(("#", "equipment"))]
        self.assertEqual(listed, sorted(known))

    def test_the_page_of_suites(self):
        counts = self.try_page("docs/suites.md")
        self.assertEqual(counts["console"], 4)

    def test_the_page_of_waivers(self):
        self.assertEqual(self.try_page("docs/waivers.md")["console"], 1)

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
        for command in [[], ["check"], ["figures"], ["rules"], ["rulesets"], ["suite"], ["new"]]:
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
