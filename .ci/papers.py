"""Asks programs from outside about PDFs: qpdf and mutool have nothing to say
against them, every font is an embedded subset, every bookmark and every link
leads to a page that is there, and nothing in them runs or fetches."""
import json
import subprocess
import sys

bad = 0


def complain(name, what):
    global bad
    bad += 1
    print(f"{name}: {what}")


# What a program says of itself and not of the file.
OF_ITSELF = "warning: ICC support is not available"


def run(name, *command):
    done = subprocess.run(command, capture_output=True, text=True, errors="replace")
    said = "\n".join(line for line in done.stderr.splitlines() if line != OF_ITSELF)
    if done.returncode != 0 or said:
        complain(name, f"{command[0]}: exit {done.returncode} {said[:500]}")
    return done.stdout


def fonts(name):
    rows = run(name, "pdffonts", name).splitlines()[2:]
    if not rows:
        complain(name, "no fonts")
    for row in rows:
        embedded, subset = row.split()[-5:-3]
        if (embedded, subset) != ("yes", "yes"):
            complain(name, f"font is not an embedded subset: {row}")


class Paper:
    """The objects of one PDF as qpdf tells them."""

    def __init__(self, name):
        data = json.loads(run(name, "qpdf", "--json=2", "--json-key=qpdf", name))
        self.name = name
        self.objects = data["qpdf"][1]
        self.root = self.get(self.objects["trailer"]["value"]["/Root"])
        self.pages = {key[4:] for key, o in self.objects.items() if isinstance(o.get("value"), dict) and o["value"].get("/Type") == "/Page"}
        self.names = {}
        self.collect(self.get(self.get(self.root.get("/Names", {})).get("/Dests", {})))
        for key, value in self.get(self.root.get("/Dests", {})).items():
            self.names[key] = value

    def get(self, value):
        if isinstance(value, str) and value.endswith(" R"):
            found = self.objects["obj:" + value]
            return found.get("value", found.get("stream", {}).get("dict"))
        return value

    def collect(self, tree):
        pairs = self.get(tree.get("/Names", []))
        self.names.update(zip(pairs[::2], pairs[1::2]))
        for kid in self.get(tree.get("/Kids", [])):
            self.collect(self.get(kid))

    def leads(self, dest):
        dest = self.get(dest)
        if isinstance(dest, str):
            if dest not in self.names:
                return False
            dest = self.get(self.names[dest])
        if isinstance(dest, dict):
            dest = self.get(dest.get("/D"))
        return isinstance(dest, list) and dest and dest[0] in self.pages

    def check_target(self, what, entry):
        if "/Dest" in entry:
            return self.leads(entry["/Dest"]) or complain(self.name, f"{what} leads nowhere: {entry['/Dest']}")
        action = self.get(entry.get("/A", {}))
        kind = action.get("/S")
        if kind == "/GoTo":
            return self.leads(action["/D"]) or complain(self.name, f"{what} leads nowhere: {action['/D']}")
        if kind == "/URI" and self.get(action["/URI"])[2:].startswith(("https:", "tel:", "mailto:")):
            return True
        return complain(self.name, f"{what} has no target, or one that is not allowed: {action}")

    def bookmarks(self):
        count, entry = 0, self.get(self.get(self.root.get("/Outlines", {})).get("/First"))
        waiting = [entry] if entry else []
        while waiting:
            entry = waiting.pop()
            count += 1
            self.check_target(f"bookmark {entry.get('/Title')}", entry)
            waiting += [self.get(entry[key]) for key in ("/First", "/Next") if key in entry]
        return count

    def links(self):
        count = 0
        for o in self.objects.values():
            if isinstance(o.get("value"), dict) and o["value"].get("/Subtype") == "/Link":
                count += 1
                self.check_target("link", o["value"])
        return count

    def quiet(self):
        for o in self.objects.values():
            value = o.get("value", o.get("stream", {}).get("dict"))
            for key in ("/JavaScript", "/JS", "/OpenAction", "/AA", "/Launch", "/EmbeddedFile", "/RichMedia", "/XFA", "/SubmitForm", "/ImportData"):
                if isinstance(value, dict) and (key in value or value.get("/S") == key):
                    complain(self.name, f"{key} in {value}")


for name in sys.argv[1:]:
    if "warning" in run(name, "qpdf", "--check", name).lower():
        complain(name, "qpdf has warnings")
    run(name, "mutool", "info", name)
    run(name, "mutool", "draw", "-q", "-F", "text", "-o", "/dev/null", name)
    fonts(name)
    paper = Paper(name)
    marks, links = paper.bookmarks(), paper.links()
    paper.quiet()
    if name.endswith("guide.pdf") and (marks < 10 or links < 50):
        complain(name, f"only {marks} bookmarks and {links} links")
print(f"{len(sys.argv) - 1} PDFs asked about, {bad} complaints")
sys.exit(bad > 0)
