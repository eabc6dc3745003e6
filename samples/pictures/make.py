#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes the pictures of the window anew: on a screen in memory, worked with mouse and keys.

    samples/pictures/make.py BUILD [FOLDER]

BUILD holds bin/potshadow-window. The pictures go to FOLDER, else beside this script: 1280 x 800
pixels, JPEG. Needs Xvfb, xdotool and ImageMagick. The window tells where its buttons are by the
description that it writes (POTSHADOW_DESCRIBE).
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent
SAMPLES = HERE.parent
SIZE = (1280, 800)
QUALITY = "82"  # letters stay clean; about 100 kB a picture
PATIENCE = 240.0  # seconds for anything; a busy machine needs some of them
# Test bars of an invented clay, in millimetres: wet, dry, fired.
BARS = (("100", "94.2", "88.1"), ("100", "94.0", "87.8"), ("100", "94.3", "88.3"), ("100", "94.1", "88.0"))
HAND = 0.08  # seconds a pointer stands before it presses


class Screen:
    """Xvfb on a display that is free."""

    def __init__(self):
        read, write = os.pipe()
        mode = f"{SIZE[0]}x{SIZE[1]}x24"
        words = ["Xvfb", "-displayfd", str(write), "-noreset", "-nolisten", "tcp", "-screen", "0", mode]
        self.server = subprocess.Popen(words, pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as numbers:
            self.display = ":" + numbers.readline().strip()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.server.terminate()
        self.server.wait()


class Window:
    """The program, with a user's folders of its own."""

    def __init__(self, screen, program, home, *arguments):
        self.description = home / "description.json"
        self.description.unlink(missing_ok=True)
        self.environment = {"PATH": os.environ["PATH"], "LANG": "C.UTF-8", "HOME": str(home),
                            "DISPLAY": screen.display, "LIBGL_ALWAYS_SOFTWARE": "1",
                            "POTSHADOW_DESCRIBE": str(self.description)}
        words = [str(program), *map(str, arguments)]
        self.process = subprocess.Popen(words, env=self.environment)
        self.rest()
        self.id = self.xdotool("search", "--onlyvisible", "--name", ".").split()[0]
        self.xdotool("windowmove", self.id, "0", "0")
        self.xdotool("windowsize", self.id, str(SIZE[0]), str(SIZE[1]))
        self.xdotool("windowfocus", self.id)
        self.rest()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.process.terminate()
        self.process.wait()

    def xdotool(self, *words):
        done = subprocess.run(["xdotool", *words], env=self.environment, check=True,
                              capture_output=True, text=True)
        return done.stdout

    def see(self):
        try:
            return json.loads(self.description.read_text())
        except (FileNotFoundError, json.JSONDecodeError):
            return {}

    def wait(self, what, wanted):
        end = time.monotonic() + PATIENCE
        while True:
            seen = self.see()
            if seen.get("idle") and wanted(seen):
                return seen
            if time.monotonic() > end or self.process.poll() is not None:
                raise SystemExit(f"make.py: waited in vain for {what}; the window shows {seen}")
            time.sleep(0.05)

    def rest(self):
        time.sleep(0.4)
        return self.wait("the window to rest", lambda seen: True)

    def widget(self, name):
        """Where it is, once it is in sight; the panel is scrolled by its wheel."""
        page = self.see().get("step") in ("Clay", "Plan", "Check", "Compare")
        down, up = ["5"] * 30, ["4"] * 60
        turns = [(104, wheel) for wheel in down + up]
        if page:
            turns = [(700, wheel) for wheel in up + down] + turns
        for x, wheel in turns:
            seen = self.rest()
            found = [w for w in seen["widgets"] if w["name"] == name and w["enabled"]]
            steps = [w for w in seen["widgets"] if w["name"] == "Templates"]
            top = steps[-1]["y"] + steps[-1]["height"] if steps else 0
            for w in reversed(found):
                in_panel = w["x"] < 208 and w["y"] > 280
                foot = SIZE[1] - (40 if w["x"] >= 208 and page else 0)
                if 0 <= w["y"] and w["y"] + w["height"] <= foot and (not in_panel or w["y"] >= top):
                    return w
            self.point(x, 600)
            self.xdotool("click", wheel)
        raise SystemExit(f"make.py: there is no '{name}'")

    def point(self, x, y):
        self.xdotool("mousemove", "--window", self.id, str(round(x)), str(round(y)))
        time.sleep(HAND)

    def point_at(self, name):
        w = self.widget(name)
        self.point(w["x"] + w["width"] / 2, w["y"] + w["height"] / 2)
        return self.rest()

    def click(self, name):
        self.point_at(name)
        self.xdotool("mousedown", "1")
        time.sleep(HAND)
        self.xdotool("mouseup", "1")
        self.rest()

    def type_into(self, name, text):
        self.click(name)
        self.xdotool("key", "ctrl+a")
        self.xdotool("type", "--delay", "30", "--", text)
        self.key("Return")

    def key(self, keys):
        self.xdotool("key", keys)
        self.rest()

    def on_screen(self, x, y):
        canvas = self.rest()["canvas"]
        scale = canvas["pixels_per_photo_pixel"]
        return canvas["photo_left"] + x * scale, canvas["photo_top"] + y * scale

    def point_at_photo(self, x, y):
        self.point(*self.on_screen(x, y))
        self.rest()

    def drag_photo(self, *places):
        """Along the places in turn, with the left button."""
        spots = [self.on_screen(*place) for place in places]
        self.point(*spots[0])
        self.xdotool("mousedown", "1")
        for spot in spots[1:]:
            self.point(*spot)
        self.xdotool("mouseup", "1")

    def zoom(self, x, y, turns):
        self.point_at_photo(x, y)
        for _ in range(turns):
            self.xdotool("click", "4")
            time.sleep(HAND)
        self.rest()

    def aside(self):
        """The pointer to where nothing is pointed at."""
        self.point(SIZE[0] - 2, SIZE[1] - 2)
        self.rest()

    def wait_for_figures(self):
        self.wait("the figures", lambda seen: seen.get("figures") == "current"
                  and seen.get("canvas", {}).get("pixels_per_photo_pixel", 0) > 0)

    def picture(self, folder, name):
        time.sleep(0.6)  # for words that pop up
        self.rest()
        subprocess.run(["import", "-silent", "-window", "root", "-quality", QUALITY,
                        "-sampling-factor", "1x1", "-strip", str(folder / (name + ".jpg"))],
                       env=self.environment, check=True)


def make_trace(screen, program, home, folder):
    """The outline of the sample, found from a box: its own marks are left out."""
    project = json.loads((SAMPLES / "shelf-jar.potshadow").read_text())
    project["photos"][0]["marks"] = {}
    project["photos"][0]["file"] = str(SAMPLES / "shelf-jar.jpg")
    file = home / "shelf-jar.potshadow"
    file.write_text(json.dumps(project))
    with Window(screen, program, home, file) as window:
        window.wait("the photograph", lambda seen: seen.get("canvas", {}).get("pixels_per_photo_pixel", 0) > 0)
        window.click("Outline")
        window.click("Find the outline")
        window.drag_photo((1350, 520), (2300, 1500), (3070, 2390))
        window.wait("the outline", lambda seen: seen["traced"]["left"] > 0 and seen["figures"] == "current")
        window.aside()
        window.picture(folder, "trace")


def make(screen, program, home, folder):
    with Window(screen, program, home) as window:
        window.aside()
        window.picture(folder, "welcome")

        window.click("Open the sample")
        window.wait_for_figures()
        window.click("Reference")
        window.aside()
        window.picture(folder, "reference")
        window.click("Add a reference")
        window.widget("How far the camera was")
        window.aside()
        window.picture(folder, "kinds")
        window.click("Add a reference")

        marks = json.loads((SAMPLES / "shelf-jar.potshadow").read_text())["photos"][0]["marks"]
        above, below = marks["right_px"][len(marks["right_px"]) // 2 - 1:][:2]
        between = [(a + b) / 2 for a, b in zip(above, below)]
        window.click("Outline")
        window.click("Right side")
        window.zoom(*between, 6)
        window.point_at_photo(*between)
        window.picture(folder, "outline")
        window.key("Escape")
        window.key("0")

        window.click("Sizes")
        window.point_at("Copy maximum diameter")
        window.picture(folder, "sizes")

        window.click("Clay")
        window.aside()
        window.picture(folder, "stages")
        window.click("Book of clays")
        window.type_into("What you call it", "Weir clay")
        for wet, dry, fired in BARS:
            window.click("Add a bar")
            for field, length in (("Marks wet", wet), ("Bone-dry", dry), ("Fired", fired)):
                window.type_into(field, length)
            window.type_into("Fired to, °C or cone", "950")
        window.click("Done with it")
        window.aside()
        window.picture(folder, "clay")
        window.click("Use it for this pot")

        window.click("Plan")
        window.wait("the plan", lambda seen: seen.get("coils", 0) > 0)
        window.aside()
        window.picture(folder, "plan")

        window.click("Templates")
        window.wait("the pages", lambda seen: seen.get("sheet_pages", 0) > 0)
        window.aside()
        window.picture(folder, "templates")
        for thing, name in (("All sheets", "pages"), ("Painting, laid flat", "painting")):
            window.click("What to make")
            window.click(thing)
            window.wait("the pages", lambda seen: seen.get("sheet_pages", 0) > 0)
            if name == "pages":
                window.click("Page 3")
            window.aside()
            window.picture(folder, name)

        window.click("Check")
        for field, reading in (("Measured Maximum diameter", "288"), ("Measured Height", "268"),
                               ("Measured Rim diameter", "185")):
            window.type_into(field, reading)
        window.aside()
        window.picture(folder, "check")
        window.type_into("Measured Maximum diameter", "271.5")  # pressed in
        window.click("The pot is")
        window.click("Fired")
        for field, reading in (("Measured Maximum diameter", "240"), ("Measured Height", "236"),
                               ("Measured Rim diameter", "163")):
            window.type_into(field, reading)
        window.aside()
        window.picture(folder, "fired")

        window.click("Outline")
        window.key("d")
        window.aside()
        window.picture(folder, "evening")


def make_compared(screen, program, home, folder):
    """The sample's replica against its original."""
    with Window(screen, program, home, SAMPLES / "shelf-jar.potshadow") as window:
        window.wait_for_figures()
        window.key("h")
        window.click("Choose the other pot")
        window.type_into("Path", str(SAMPLES / "my-jar.potshadow"))
        window.wait("the comparison", lambda seen: seen.get("compared"))
        window.aside()
        window.picture(folder, "compare")
        window.click("Wiped")
        window.point(500, 300)
        for _ in range(6):
            window.xdotool("click", "5")
            window.rest()
        window.aside()
        window.picture(folder, "over")


def main():
    if len(sys.argv) not in (2, 3):
        raise SystemExit(__doc__)
    program = pathlib.Path(sys.argv[1]).resolve() / "bin" / "potshadow-window"
    if not program.exists():
        raise SystemExit(f"make.py: there is no {program}. Build the target potshadow-window first.")
    folder = pathlib.Path(sys.argv[2]) if len(sys.argv) == 3 else HERE
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home, Screen() as screen:
        make(screen, program, pathlib.Path(home), folder)
        make_trace(screen, program, pathlib.Path(home), folder)
        make_compared(screen, program, pathlib.Path(home), folder)


if __name__ == "__main__":
    main()
