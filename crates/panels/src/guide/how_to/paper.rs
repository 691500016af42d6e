//! The words of the pages on laying setups side by side, and on what leaves the shop.

use rearend::figures::CAUTION;

type Passage = (&'static str, &'static str);

/// What stands last on the pages of what is cut and built from.
const BEFORE_YOU_CUT: Passage = ("Before you cut", CAUTION);

pub(super) const BESIDE: [Passage; 5] = [
    (
        "What for",
        "Two ways to hang the axle, or one way with a mount moved: lay them side by side and see which does what better. Key S opens and closes the table. Up to six stand in it, the open one first.",
    ),
    (
        "Fill it",
        "\"Put a copy beside\" keeps the setup as it is now, and you go on working on the open one. \"Open beside this one…\" brings one from a file, and there are the demo trucks.",
    ),
    (
        "Read it",
        "The best figure of each row says \"best\". Where it is a matter of what you want, as with anti-squat, none is marked. The strips draw the curves of all, each with the line shown above its name.",
    ),
    (
        "On the stage",
        "While the table is open, bars of the others are drawn as lines over your truck, at the height it stands at.",
    ),
    (
        "Change over",
        "\"Onto the bench\" opens that one for work; the one you had takes its place, with all its steps. One that is in no file yet is saved from the bench.",
    ),
];

pub(super) const PICTURES: [Passage; 5] = [
    (
        "Of what you see",
        "Press Ctrl+P. The picture is saved as the truck stands and from where you look at it, with its name and a few figures under it.",
    ),
    (
        "Of several",
        "\"Picture of three heights…\" in the menu Output shows the truck laid out, at ride height and at full lift. \"Picture of all side by side…\" shows everything in the table of key S, seen from the same place.",
    ),
    (
        "Into a message",
        "Ctrl+Shift+I copies the picture without a file. Paste it where you write to the customer.",
    ),
    (
        "With measures",
        "Tick \"Dimension lines on pictures\" in the menu Output. Every picture then has the few measures that customers ask for, such as the height under the rails and the width over the tyres.",
    ),
    (
        "Your shop on it",
        "\"Shop's name, logo, paper…\" in the same menu puts name and logo on pictures and build sheets. Type them once; they are kept. A logo as PNG or JPEG does for both.",
    ),
];

pub(super) const SHEET: [Passage; 6] = [
    (
        "What it is",
        "A PDF to build from. Press Ctrl+Shift+P and say where it goes. It is made while you work on, and a line tells you when it is there.",
    ),
    (
        "What is on it",
        "Findings and dimensioned drawings, the cut list, mounts from where a tape starts, brackets, ride heights and travel, joints, clearances, squareness, the order of work and the parts to buy.",
    ),
    (
        "How long a tube is cut",
        "From eye to eye, less what the two ends take. Rod ends are reckoned half in at both ends, so that each can go out and in. The sheet says how much thread is left. Where your rod ends or inserts differ, check before you saw.",
    ),
    (
        "Where it says Stop",
        "The order of work has hold points. They begin with \"Stop\": do not go on until what stands there is so, with a tape or by hand.",
    ),
    (
        "To your own taste",
        "All looks are in one file, sheet.typ. Copy it, change it, and give it on the command line: axlewright sheet SETUP --out PDF --template FILE.",
    ),
    BEFORE_YOU_CUT,
];

pub(super) const BRACKETS: [Passage; 7] = [
    (
        "What you get",
        "Press Ctrl+Shift+B and choose a folder. Every plate comes as a DXF file, 1:1, and all of them together on paper in templates.pdf.",
    ),
    (
        "For the table",
        "Cut only the layer CUT. MARK has lines to scribe. NOTES has the words, CHECK a square to measure. If the square does not measure what stands at it, the units are wrong: cut nothing.",
    ),
    (
        "On paper",
        "Print at 100 %, not \"fit to page\", and measure the check square. Glue the paper on, centre-punch the holes, and cut. Plates larger than a page are taped together at the register marks.",
    ),
    (
        "Saddles",
        "A bracket that sits on a round tube has a saddle cut for the tube's actual diameter, as the setup has it. Measure yours with a caliper first: the size that a tube is sold by is not always what it measures.",
    ),
    (
        "On the stage",
        "The grey plates on the stage are the ones that are cut, from the steel in the parts drawer (R, \"Steel\"). Drag a mount and they follow.",
    ),
    (
        "What cannot be drawn",
        "A bracket whose mount lies inside the rail, too near to a weld, or whose plates would run into something, cannot be cut: on the stage it is orange and looked through, and a finding says why and what to do. The others are written all the same.",
    ),
    BEFORE_YOU_CUT,
];

pub(super) const TABLES: [Passage; 3] = [
    (
        "What for",
        "Numbers for a spreadsheet, or to keep with the job. They are CSV files, in millimetres and degrees whatever you work in.",
    ),
    (
        "The travel",
        "Ctrl+Shift+T writes a row for every height, everything that the strips can draw in columns. What your truck does not describe stays empty.",
    ),
    (
        "Side by side",
        "\"Side by side as a table…\" in the menu Output writes the table of key S: a row for every figure, a column for every setup, and which of them is best.",
    ),
];
