# SPDX-License-Identifier: MIT
"""What stands in the museum scenes.  Vessels and places are invented.

Level places are given as seen from the camera's side of the vessel: (to the right, towards the viewer).
`front` says that a thing hides a part of the vessel.  A pane's windows are shares of the reflected picture.
"""
VESSELS = {
    "tall-jar": dict(
        profile=[[(54, 0), (66, 14), (112, 62), (130, 126), (106, 184), (70, 204), (65, 222), (82, 240), (97, 247)],
                 [(97, 247), (101, 249), (102, 251), (102, 254)]], wall=7.0,
        clay=(188, 120, 82), ink=(74, 38, 30),
        rows=[("ring", 238, 6, 0), ("ring", 214, 3, 0), ("ring", 192, 3, 0), ("blocks", 178, 10, 30), ("ring", 165, 3, 0),
              ("zigzag", 138, 34, 13), ("ring", 112, 4, 0), ("dots", 99, 9, 36), ("ring", 86, 3, 0), ("leaves", 62, 28, 15)]),
    "open-bowl": dict(
        profile=[[(42, 0), (42.5, 4), (44, 8)], [(44, 8), (70, 14), (112, 40), (140, 80), (148, 106)],
                 [(148, 106), (150, 110), (150, 113)]], wall=6.0,
        clay=(176, 104, 70), ink=(214, 192, 152),
        rows=[("ring", 104, 6, 0), ("zigzag", 82, 22, 18), ("ring", 64, 3, 0)]),
    "bottle": dict(
        profile=[[(48, 0), (62, 18), (96, 62), (98, 128), (70, 186), (26, 208), (17, 240), (18, 292), (19, 306)],
                 [(19, 306), (20, 312), (29, 318), (31, 322), (31, 326)]], wall=4.0,
        clay=(96, 74, 52), ink=(150, 128, 88), rows=[("ring", 196, 5, 0), ("ring", 186, 3, 0), ("leaves", 150, 40, 9)]),
    "shouldered-jar": dict(
        profile=[[(50, 0), (60, 20), (94, 72), (124, 126), (127, 146)],
                 [(127, 146), (121, 164), (88, 176), (68, 188), (64, 202), (70, 215), (74, 219)]], wall=6.5,
        clay=(206, 168, 124), ink=(120, 46, 34),
        rows=[("ring", 212, 6, 0), ("dots", 196, 9, 24), ("ring", 182, 4, 0), ("leaves", 162, 14, 14), ("ring", 148, 5, 0),
              ("zigzag", 120, 36, 11), ("blocks", 92, 8, 26), ("ring", 82, 4, 0), ("ring", 30, 10, 0)]),
    "jug": dict(
        profile=[[(52, 0), (70, 20), (98, 72), (94, 122), (58, 160), (50, 188), (56, 210), (66, 222)],
                 [(66, 222), (68, 225), (68, 229)]], wall=5.0,
        clay=(196, 178, 146), ink=(92, 100, 92),
        rows=[("ring", 206, 3, 0), ("ring", 160, 4, 0), ("ring", 152, 2, 0), ("zigzag", 120, 26, 12), ("ring", 96, 3, 0)],
        handle=[(58, 206), (84, 222), (122, 206), (130, 160), (112, 122), (92, 104)], handle_radius=9.0),
    "store-jar": dict(
        profile=[[(66, 0), (86, 24), (138, 96), (150, 168), (118, 232), (88, 250), (82, 264), (92, 278), (108, 284)],
                 [(108, 284), (112, 286), (113, 289), (113, 293)]], wall=9.0,
        clay=(150, 92, 66), ink=(196, 172, 138), rows=[("ring", 246, 5, 0), ("blocks", 214, 12, 22), ("ring", 196, 4, 0),
                                                      ("zigzag", 150, 50, 9), ("ring", 104, 5, 0)]),
    "black-jar": dict(
        profile=[[(46, 0), (60, 14), (104, 50), (118, 104), (98, 150), (64, 168), (56, 180), (60, 192), (72, 200)],
                 [(72, 200), (74, 202), (74, 205)]], wall=5.5,
        clay=(52, 46, 42), ink=(86, 72, 58), rows=[("ring", 160, 3, 0), ("zigzag", 130, 30, 14), ("ring", 104, 3, 0)]),
    "pale-bowl": dict(
        profile=[[(46, 0), (58, 12), (92, 44), (106, 78)], [(106, 78), (99, 96), (92, 112), (95, 126), (104, 136)],
                 [(104, 136), (106, 138), (106, 141)]], wall=5.5,
        clay=(212, 200, 176), ink=(168, 120, 84), rows=[("ring", 128, 4, 0), ("dots", 104, 8, 30), ("ring", 78, 4, 0)]),
}

MATT = "finish { ambient 0 diffuse 0.76 brilliance 0.95 specular 0.03 roughness 0.12 }"
BURNISHED = "finish { ambient 0 diffuse 0.66 specular 0.22 roughness 0.02 reflection { 0.01, 0.10 falloff 4 } }"
GLAZED = "finish { ambient 0 diffuse 0.55 specular 0.7 roughness 0.004 reflection { 0.035, 0.35 falloff 4 } }"
GRIT = "normal { granite 0.07 scale 11 }"
SMOOTH = "normal { bumps 0.02 scale 14 }"

# light: strength of the case's own light and of the room; gain: brightness of what the pane reflects (1: the
# windows as bright as white paper in full light); exposure: the picture's brightness.
SCENES = {
    "window-jar": dict(
        vessel="tall-jar", finish=MATT, bump=GRIT, spin=37, seed=101, focal=40.0, distance=760, elevation=14, azimuth=-90,
        target=(-28, 0, 118), roll=0.7, pane=dict(thickness=8.0, turn=5.0, face=255.0),
        wall=dict(kind="cloth", colour=(150, 142, 122), behind=215.0, tile=330.0), shelf=dict(kind="plaster", colour=(188, 184, 174)),
        light=(1.0, 0.20), gain=1.5, windows=[(0.60, 0.14, 0.26, 0.44)], people=[(0.36, 0.62)], exposure=1.0,
        reference=dict(place="leaning", size=(120.0, 80.0), at=(-205, 70), yaw=10.0, lean=20.0, face="label",
                       lines=["Tall jar", "Painted earthenware", "Upper Larkmoor", "Case 4, no. 2"]),
        others=[dict(vessel="black-jar", at=(226, -92), finish=BURNISHED, bump=SMOOTH, spin=0, front=False),
                dict(vessel="open-bowl", at=(-262, -95), finish=MATT, bump=GRIT, spin=80, front=False, scale=0.75)],
        cards=[dict(place="lying", size=(74.0, 52.0), at=(150, 96), yaw=-14.0, face="label",
                    lines=["2", "Coil-built, buff clay", "Rim worn, one chip", "", ""])],
        blur=1.0, iso=1.0, k1=-0.008, quality=86),
    "crowded-bowl": dict(
        vessel="open-bowl", finish=MATT, bump=GRIT, spin=10, seed=102, focal=34.0, distance=560, elevation=24, azimuth=-70,
        target=(8, 20, 52), roll=-1.1, pane=dict(thickness=6.0, turn=-7.0, face=262.0),
        wall=dict(kind="panel", colour=(126, 134, 138), behind=190.0, tile=420.0), shelf=dict(kind="wood", colour=(150, 112, 76)),
        light=(0.9, 0.24), gain=1.0, windows=[(0.06, 0.08, 0.24, 0.30)], people=[(0.72, 0.5)], exposure=1.0,
        reference=dict(place="lying", size=(120.0, 80.0), at=(-128, 166), yaw=11.0, face="label",
                       lines=["Open bowl", "Slip-painted", "Ferry Lane kiln", "Case 1, no. 7"]),
        others=[dict(vessel="black-jar", at=(164, 155), finish=BURNISHED, bump=SMOOTH, spin=50, front=True, scale=0.75),
                dict(vessel="shouldered-jar", at=(-262, -66), finish=MATT, bump=GRIT, spin=120, front=False, scale=0.9),
                dict(vessel="bottle", at=(215, -105), finish=GLAZED, bump=SMOOTH, spin=120, front=False, scale=0.8)],
        cards=[], blur=0.95, iso=1.0, k1=0.006, quality=86),
    "dim-bottle": dict(
        vessel="bottle", finish=GLAZED, bump=SMOOTH, spin=20, seed=103, focal=44.0, distance=900, elevation=17, azimuth=-75,
        target=(-30, 0, 150), roll=0.5, pane=dict(thickness=10.0, turn=-6.0, face=225.0),
        wall=dict(kind="cloth", colour=(122, 88, 70), behind=200.0, tile=330.0), shelf=dict(kind="cloth", colour=(112, 104, 94)),
        light=(0.42, 0.05), gain=0.55, windows=[(0.62, 0.22, 0.2, 0.36)], people=[(0.25, 0.7), (0.40, 0.6)], exposure=1.15,
        reference=dict(place="standing", size=(85.6, 53.98), at=(-170, 72), yaw=14.0, face="label", radius=3.18,
                       lines=["Bottle", "Ash glaze", "Larkmoor, upper kiln", "no. 11"]),
        others=[dict(vessel="pale-bowl", at=(190, -70), finish=GLAZED, bump=SMOOTH, spin=10, front=False),
                dict(vessel="tall-jar", at=(-225, -85), finish=MATT, bump=GRIT, spin=30, front=False, scale=0.85)],
        cards=[dict(place="lying", size=(105.0, 74.0), at=(170, 110), yaw=-16.0, face="label",
                    lines=["11", "Found by the ferry", "Neck mended", "", ""])],
        blur=1.2, iso=1.5, k1=-0.010, quality=85),
    "banded-jar": dict(
        vessel="shouldered-jar", finish=BURNISHED, bump=GRIT, spin=60, seed=104, focal=40.0, distance=720, elevation=19, azimuth=-110,
        target=(6, 20, 98), roll=-0.6, pane=dict(thickness=8.0, turn=6.0, face=240.0),
        wall=dict(kind="panel", colour=(112, 124, 120), behind=200.0, tile=520.0), shelf=dict(kind="plaster", colour=(160, 164, 160)),
        light=(1.0, 0.25), gain=0.9, windows=[(0.10, 0.20, 0.20, 0.40)], people=[(0.62, 0.62)], exposure=1.0,
        reference=dict(place="lying", size=(120.0, 80.0), at=(100, 170), yaw=-11.0, face="scale"),
        others=[dict(vessel="bottle", at=(-140, 135), finish=GLAZED, bump=SMOOTH, spin=40, front=True, scale=0.8),
                dict(vessel="jug", at=(210, -80), finish=GLAZED, bump=SMOOTH, spin=120, front=False),
                dict(vessel="store-jar", at=(-250, -110), finish=MATT, bump=GRIT, spin=10, front=False, scale=0.55)],
        cards=[], blur=0.95, iso=0.9, k1=-0.006, quality=86),
    "handled-jug": dict(
        vessel="jug", finish=GLAZED, bump=SMOOTH, spin=90, seed=105, focal=44.0, distance=720, elevation=16, azimuth=-95,
        target=(2, 0, 106), roll=0.9, pane=dict(thickness=6.0, turn=8.0, face=220.0), handle_turn=8.0,
        wall=dict(kind="plaster", colour=(166, 148, 118), behind=190.0, tile=500.0), shelf=dict(kind="wood", colour=(120, 86, 58)),
        light=(0.9, 0.22), gain=1.2, windows=[(0.22, 0.12, 0.20, 0.40)], people=[(0.7, 0.6)], exposure=1.0,
        reference=dict(place="leaning", size=(105.0, 74.0), at=(-180, 62), yaw=14.0, lean=24.0, face="label",
                       lines=["Jug", "Glazed stoneware", "Weir Street", "Case 2, no. 5"]),
        others=[dict(vessel="open-bowl", at=(240, -72), finish=MATT, bump=GRIT, spin=100, front=False, scale=0.75),
                dict(vessel="shouldered-jar", at=(-206, -100), finish=MATT, bump=GRIT, spin=60, front=False, scale=0.65)],
        cards=[], blur=1.0, iso=1.0, k1=-0.008, quality=86),
    "cut-jar": dict(
        vessel="store-jar", finish=MATT, bump=GRIT, spin=200, seed=106, focal=36.0, distance=760, elevation=18, azimuth=-80,
        target=(-240, 10, 130), roll=-0.9, pane=dict(thickness=10.0, turn=5.0, face=270.0),
        wall=dict(kind="cloth", colour=(92, 104, 112), behind=230.0, tile=330.0), shelf=dict(kind="plaster", colour=(172, 166, 152)),
        light=(0.8, 0.18), gain=1.1, windows=[(0.05, 0.10, 0.22, 0.36)], people=[(0.5, 0.6)], exposure=1.05,
        reference=dict(place="standing", size=(120.0, 80.0), at=(-240, 110), yaw=12.0, face="scale"),
        others=[dict(vessel="jug", at=(-250, -90), finish=GLAZED, bump=SMOOTH, spin=120, front=False),
                dict(vessel="pale-bowl", at=(-430, 20), finish=MATT, bump=GRIT, spin=10, front=False)],
        cards=[], blur=1.0, iso=1.2, k1=-0.010, quality=85),
    "black-jar": dict(
        vessel="black-jar", finish=BURNISHED, bump=SMOOTH, spin=0, seed=107, focal=48.0, distance=760, elevation=20, azimuth=-85,
        target=(22, 0, 86), roll=0.3, pane=dict(thickness=6.0, turn=-5.0, face=215.0),
        wall=dict(kind="cloth", colour=(90, 84, 80), behind=180.0, tile=300.0), shelf=dict(kind="cloth", colour=(146, 134, 116)),
        light=(0.8, 0.2), gain=1.1, windows=[(0.30, 0.16, 0.22, 0.40)], people=[(0.7, 0.62)], exposure=1.0,
        reference=dict(place="leaning", size=(120.0, 80.0), at=(188, 60), yaw=-12.0, lean=18.0, face="label",
                       lines=["Black jar", "Burnished, smoked", "Hollow Way", "Case 3, no. 9"]),
        others=[dict(vessel="tall-jar", at=(-222, -66), finish=MATT, bump=GRIT, spin=0, front=False, scale=0.8),
                dict(vessel="open-bowl", at=(190, -95), finish=GLAZED, bump=SMOOTH, spin=0, front=False, scale=0.5)],
        cards=[], blur=1.0, iso=1.2, k1=-0.006, quality=85),
    "pale-bowl": dict(
        vessel="pale-bowl", finish=MATT, bump=GRIT, spin=25, seed=108, focal=38.0, distance=620, elevation=28, azimuth=-100,
        target=(-14, 24, 54), roll=-0.4, pane=None,
        wall=dict(kind="plaster", colour=(204, 198, 184), behind=210.0, tile=500.0), shelf=dict(kind="cloth", colour=(186, 180, 166)),
        light=(0.95, 0.3), gain=0.0, windows=[], people=[], exposure=0.95,
        reference=dict(place="lying", size=(85.6, 53.98), at=(-152, 132), yaw=16.0, face="label", radius=3.18,
                       lines=["Member", "Friends of the museum", "Larkmoor", "0417 2210"]),
        others=[dict(vessel="bottle", at=(118, 122), finish=GLAZED, bump=SMOOTH, spin=0, front=True, scale=0.62),
                dict(vessel="shouldered-jar", at=(-172, -110), finish=MATT, bump=GRIT, spin=0, front=False, scale=0.75)],
        cards=[], blur=1.0, iso=1.0, k1=0.004, quality=86),
}
