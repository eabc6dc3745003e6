#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes a table (table.md) and a plot (plot.svg) of what the benchmarks found.

    report.py FOLDER FILE.json... [FILE.txt...]

A benchmark NAME/SIZE stands beside NAME_limit/SIZE, the least that it takes: a bare library call,
or its residuals once. Texts are appended to the table as they are. Standard library alone.
"""
import json
import math
import sys

# What was promised of speeds, on two cores: seconds, or MiB where the name says so.
AIMS = {
    "estimate_one_photo/200": 0.050,
    "estimate_several_photos/5/1050": 0.400,
    "redraw_one_photo/10000": 60.0,
    "trace_jar/12": 1.0,
    "trace_jar/48": 3.0,
    "trace_jar/48 MiB": 1536.0,
    "tiled_sheet/14": 2.0,
}
RATIO_AIMS = {"unrolling/4096": 1.5}

# Of each: what it is, the unit of its size, and what its limit is.
WORDS = {
    "estimate_one_photo": ("One photograph's estimate", "marks", "all residuals once"),
    "estimate_many_marks": ("One photograph with very many marks", "marks",
                            "all residuals once"),
    "estimate_several_photos": ("Several photographs' estimate", "photographs",
                                "all residuals once"),
    "estimate_while_dragging": ("Estimate while a mark is dragged", "marks", ""),
    "redraw_one_photo": ("Redrawn estimates", "draws", "as many times all residuals"),
    "measure_process": ("'potshadow measure' as a process", "", ""),
    "measure_many": ("'potshadow measure --jobs 2'", "projects", "--jobs 1"),
    "tiled_sheet": ("A piece on many pages, as PDF", "pages", "as many strokes by Cairo alone"),
    "decode": ("A photograph decoded", "megapixels", "cv::imread"),
    "decode_to_show": ("Decoded and made ready to show", "megapixels", "cv::imread"),
    "show_photo": ("A picture made ready to show", "megapixels", ""),
    "turn_photo": ("A picture of 12 megapixels turned", "", ""),
    "snap_mark": ("A mark set onto an edge", "pixels of reach", ""),
    "trace_jar": ("A vessel traced", "megapixels", "one graph cut, edges by cv::Sobel"),
    "unrolling": ("A wall unrolled", "pixels wide", "its map and one cv::remap"),
}
SECONDS = {"ns": 1e-9, "us": 1e-6, "ms": 1e-3, "s": 1.0}


class Case:
    """One benchmark at one size."""

    def __init__(self, found):
        parts = found["name"].split("/")
        ignored = ("real_time", "process_time", "iterations:1")
        parts = [part for part in parts if part not in ignored]
        self.family = parts[0]
        self.sizes = [int(part) for part in parts[1:]]
        unit = SECONDS[found["time_unit"]]
        self.real = found["real_time"] * unit
        self.cpu = found["cpu_time"] * unit
        self.peak = found.get("peak_MiB")
        self.size = self.sizes[0] if self.sizes else 0
        # Where the size is what came of the number in the name.
        for family, counter in (("tiled_sheet", "pages"), ("estimate_many_marks", "marks")):
            if self.family == family:
                self.size = found[counter]

    def key(self):
        return "/".join([self.family] + [str(size) for size in self.sizes])


def cases_of(files):
    cases = {}
    for file in files:
        with open(file, encoding="utf-8") as stream:
            for found in json.load(stream)["benchmarks"]:
                if found.get("run_type") == "aggregate" or found.get("error_occurred"):
                    continue
                case = Case(found)
                cases[case.key()] = case
    return cases


def limit_of(cases, case):
    sizes = "".join("/" + str(size) for size in case.sizes)
    return cases.get(case.family + "_limit" + sizes)


def time_text(seconds):
    if seconds < 1e-3:
        return f"{seconds * 1e6:.3g} µs"
    if seconds < 1.0:
        return f"{seconds * 1e3:.3g} ms"
    return f"{seconds:.3g} s"


def ratio_text(ratio):
    return f"{ratio:.2f}" if ratio < 10 else f"{ratio:.0f}"


def aim_text(case, limit):
    texts = []
    for key, measured, aim, unit in (
            (case.key(), case.real, AIMS.get(case.key()), time_text),
            (case.key() + " MiB", case.peak, AIMS.get(case.key() + " MiB"),
             lambda value: f"{value:.0f} MiB")):
        if aim is not None and measured is not None:
            texts.append(f"{'within' if measured <= aim else '**over**'} {unit(aim)}")
    aim = RATIO_AIMS.get(case.key())
    if aim is not None and limit is not None:
        texts.append(f"{'within' if case.real <= aim * limit.real else '**over**'} {aim} times")
    return "; ".join(texts)


def growth(chain):
    """The exponent by which time grows with size, between the first and the last."""
    low, high = chain[0], chain[-1]
    if len(chain) < 4 or low.size <= 0 or high.size <= low.size:
        return None
    return math.log(high.real / low.real) / math.log(high.size / low.size)


def families_of(cases):
    families = {}
    for case in cases.values():
        if not case.family.endswith("_limit"):
            families.setdefault(case.family, []).append(case)
    for chain in families.values():
        chain.sort(key=lambda case: case.sizes)
    return families


def table_of(cases, texts):
    lines = ["# Speeds", "",
             "Real time, the processor's time where threads share it, the least that the work takes "
             "(limit), and how many times that it is. The last of each says by which power of its "
             "size the time grows.", "",
             "| what | size | time | processor | peak memory | limit | times the limit | aim |",
             "|---|---|---|---|---|---|---|---|"]
    for family, chain in families_of(cases).items():
        words, unit, limit_words = WORDS.get(family, (family, "", ""))
        power = growth(chain)
        for index, case in enumerate(chain):
            limit = limit_of(cases, case)
            first = words if index == 0 else ""
            if index == len(chain) - 1 and power is not None:
                first += f" grows as size^{power:.2f}"
            size = f"{case.size:g} {unit}" if case.size else ""
            size += "".join(f", {each} marks" for each in case.sizes[1:])
            lines.append("| " + " | ".join([
                first.strip(), size.strip(), time_text(case.real), time_text(case.cpu),
                f"{case.peak:.0f} MiB" if case.peak else "",
                time_text(limit.real) + (": " + limit_words if index == 0 else "") if limit else "",
                ratio_text(case.real / limit.real) if limit else "",
                aim_text(case, limit)]) + " |")
    for text in texts:
        lines += ["", "```", text.rstrip(), "```"]
    return "\n".join(lines) + "\n"


PANEL_WIDTH, PANEL_HEIGHT, ACROSS = 340, 260, 3
LEFT, RIGHT, TOP, BOTTOM = 64, 24, 56, 44


def escaped(text):
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def decades(low, high):
    return range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)


def panel(x0, y0, chain, limits, words):
    title, unit, limit_words = words
    times = [case.real for case in chain] + [case.real for case in limits]
    powers = list(decades(min(times), max(times)))
    low, high = powers[0], max(powers[-1], powers[0] + 1)
    sizes = [math.log10(case.size) for case in chain]
    first, last = min(sizes), max(sizes)

    def at(case):
        across = (math.log10(case.size) - first) / (last - first)
        up = (math.log10(case.real) - low) / (high - low)
        return (x0 + LEFT + across * (PANEL_WIDTH - LEFT - RIGHT),
                y0 + PANEL_HEIGHT - BOTTOM - up * (PANEL_HEIGHT - TOP - BOTTOM))

    out = [f'<text x="{x0 + LEFT}" y="{y0 + 20}" class="title">{escaped(title)}</text>']
    for power in range(low, high + 1):
        y = y0 + PANEL_HEIGHT - BOTTOM - (power - low) / (high - low) * (PANEL_HEIGHT - TOP - BOTTOM)
        label = f"{10.0 ** power:g} s" if power >= 0 else \
            f"{10.0 ** (power + 3):g} ms" if power >= -3 else f"{10.0 ** (power + 6):g} µs"
        out.append(f'<path d="M{x0 + LEFT} {y:.1f}H{x0 + PANEL_WIDTH - RIGHT}" class="grid"/>'
                   f'<text x="{x0 + LEFT - 6}" y="{y + 4:.1f}" class="up">{label}</text>')
    for case in chain:
        x, _ = at(case)
        out.append(f'<text x="{x:.1f}" y="{y0 + PANEL_HEIGHT - BOTTOM + 16}" '
                   f'class="across">{case.size:g}</text>')
    out.append(f'<text x="{x0 + (LEFT + PANEL_WIDTH - RIGHT) / 2:.1f}" '
               f'y="{y0 + PANEL_HEIGHT - BOTTOM + 33}" class="across">{escaped(unit)}</text>')
    for kind, line in (("limit", limits), ("time", chain)):
        if not line:
            continue
        points = [at(case) for case in line]
        path = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
        out.append(f'<path d="M{path}" class="{kind}"/>')
        out += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" class="{kind}-dot"/>' for x, y in points]
    if limits:
        out.append(f'<text x="{x0 + LEFT}" y="{y0 + 37}" class="limit-words">'
                   f'dashed: {escaped(limit_words)}</text>')
    return out


def plot_of(cases):
    # Only what is measured at four sizes or more of one kind.
    panels = [(family, chain) for family, chain in families_of(cases).items()
              if growth(chain) is not None]
    rows = max(1, math.ceil(len(panels) / ACROSS))
    width, height = PANEL_WIDTH * ACROSS, PANEL_HEIGHT * rows
    out = [f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
           f'viewBox="0 0 {width} {height}">',
           "<style>text{font:12px Inter,'DejaVu Sans',sans-serif;fill:#33291f}"
           ".title{font-size:14px}.up{text-anchor:end}.across{text-anchor:middle}"
           ".limit-words{fill:#0072b2}.grid{stroke:#ddd6cc}"
           ".time,.limit{fill:none;stroke-width:2}.time{stroke:#d55e00}"
           ".limit{stroke:#0072b2;stroke-dasharray:5 4}"
           ".time-dot{fill:#d55e00}.limit-dot{fill:#0072b2}</style>",
           f'<rect width="{width}" height="{height}" fill="#fff"/>']
    for index, (family, chain) in enumerate(panels):
        limits = []
        for case in chain:
            limit = limit_of(cases, case)
            if limit:
                limit.size = case.size
                limits.append(limit)
        out += panel(index % ACROSS * PANEL_WIDTH, index // ACROSS * PANEL_HEIGHT, chain, limits,
                     WORDS.get(family, (family, "", "")))
    return "\n".join(out + ["</svg>"]) + "\n"


def main():
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    folder, files = sys.argv[1], sys.argv[2:]
    cases = cases_of([file for file in files if file.endswith(".json")])
    if not cases:
        sys.exit("No benchmark was run.")
    texts = []
    for file in files:
        if file.endswith(".txt"):
            with open(file, encoding="utf-8") as stream:
                texts.append(stream.read())
    for name, text in (("table.md", table_of(cases, texts)), ("plot.svg", plot_of(cases))):
        with open(f"{folder}/{name}", "w", encoding="utf-8") as stream:
            stream.write(text)
        print(f"{folder}/{name}")


main()
