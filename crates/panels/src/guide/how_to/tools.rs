//! The words of the pages on single tools.

type Passage = (&'static str, &'static str);

pub(super) const TYPE: [Passage; 7] = [
    (
        "As the tape reads",
        "Write 19 1/4 or 19-1/4, or 19.25. A number alone is in the units at the top right of the window.",
    ),
    (
        "In other units",
        "Put the unit behind it: 489 mm, 48.9 cm, 19 1/4\", 3 ft, 4' 3 1/2\". It is turned into yours.",
    ),
    (
        "Let it do the sum",
        "Half a width less a bracket: 34/2 - 1 1/8. Plus, minus, times (*), divided by (/) and brackets all work.",
    ),
    (
        "Which way",
        "A measure of the tape sheet that can go either way takes a word for it: 3 right, 2 1/2 behind, 1 below. One letter will do.",
    ),
    (
        "One thing to watch",
        "19 - 1/4, with spaces, takes a quarter off nineteen. 19-1/4 without them is nineteen and a quarter, as a tape says it.",
    ),
    (
        "Rounded on the screen",
        "A wavy equals sign, as in ≈ 34, says that the number is shown as near as a tape reads. What you typed is kept.",
    ),
    (
        "Done, or not",
        "Enter or Tab takes it, Esc drops it. What cannot be read stays in the box with a line that says why, and nothing changes.",
    ),
];

pub(super) const SEVERAL: [Passage; 3] = [
    (
        "Choose them",
        "Click the first mount, then hold Shift and click the others. Shift and a click on a chosen one lets it go. With the keyboard, Tab goes to a mount and Enter chooses it.",
    ),
    (
        "Move them",
        "Drag any of them, or use the arrow keys: all go by the same amount, in one step. The card shows the one that you chose last.",
    ),
    (
        "Good for",
        "Both bars of one bracket, or all the mounts of a crossmember that has to go an inch forward. If one of them is locked, none of them moves.",
    ),
];

pub(super) const LOCK: [Passage; 3] = [
    (
        "What for",
        "A mount that is already welded, or has only one place to go, should not move by accident. Lock it and work on the rest.",
    ),
    (
        "How",
        "Click the mount and tick \"locked\" on its card. The other one of a pair is locked with it.",
    ),
    (
        "What it does",
        "Drags, arrow keys, typed numbers and one-click cures leave it where it is. Untick it to move it again. Choosing another layout puts in new bars, and the locks go with the old ones.",
    ),
];

pub(super) const HOLES: [Passage; 4] = [
    (
        "What for",
        "Many brackets have a row of holes. Describe the row once, and the mount can only sit where a bolt can.",
    ),
    (
        "Set it up",
        "Click the mount and tick \"Bracket holes\" on its card. Then type how far it is from hole to hole, say whether the holes run up, forward or sideways, and how many there are. The bolt stays where it is; the row is put around it.",
    ),
    (
        "Use it",
        "A drag now clicks from hole to hole, and so do the arrow keys. Or pick the hole by its number on the card. Crosses on the stage show the other holes while the dimension lines are on.",
    ),
    (
        "Not where you want it?",
        "If no hole is right, the bracket has to move. Untick \"Bracket holes\", put the mount where it belongs, tick it again and type the row anew.",
    ),
];

pub(super) const DIMENSIONS: [Passage; 3] = [
    (
        "What they show",
        "Click a mount, and lines run to it from where a tape would start. On the frame: from the axle line, the middle of the truck and the underside of the rails. On the axle: from the middle of its tube.",
    ),
    (
        "And the bar",
        "One more line shows its bar from eye to eye: from the middle of one bolt to the middle of the other.",
    ),
    (
        "On and off",
        "Key K, or \"Dimensions of the selected mount\" in the menu View. Nothing shows while no mount is selected, or while you measure.",
    ),
];

pub(super) const BETWEEN: [Passage; 4] = [
    (
        "How",
        "Press D, click where to measure from, then click where to. It says how far that is straight, and how much of it is forward or back, left or right, up or down.",
    ),
    (
        "What can be clicked",
        "Mounts, the middle of the axle tube, wheel faces, tyres, the rails, the shaft's joints and the springs: whatever shows a mark. From behind, from the side and from above any other place will do as well.",
    ),
    (
        "At other heights",
        "Leave it on and lower or lift the truck: ends that sit on a mark move along with the part, and the numbers follow.",
    ),
    (
        "And then",
        "A third click begins again. D or Esc ends it. While you measure, mounts cannot be dragged.",
    ),
];

pub(super) const PARTS: [Passage; 5] = [
    (
        "What is in it",
        "Every bar, arm and linkage of the truck, with its length. Click one to unfold it: name, tube and wall, what its ends are (rod ends or bushes), and buttons that select its mounts. Key R opens and closes it.",
    ),
    (
        "More bars, or fewer",
        "Buttons at the top add an upper, lower or sideways bar. Inside a bar, Duplicate makes another like it, a little higher, and Remove takes it off. Ctrl+Z brings it back.",
    ),
    (
        "The steel you build with",
        "Below the parts is \"Steel\": plate, bolts, holes, the gap of the brackets, eyes of bushes, and folded in it the rod end and its insert. Brackets, cut list and parts to buy go by it. It stands at common practice; a button beside each number that is yours puts it back to what is usual.",
    ),
    (
        "Inserts and tubes",
        "An insert slides into its tube, so the tube's bore, outside less two walls, has to suit it. Inserts are sold for many bores; where all on your shelf have one shank, untick \"Inserts to suit each tube's bore\" and type it. A tube that takes none is told among the findings.",
    ),
    (
        "Your notes",
        "At the bottom are the name of the setup and a box for notes: what the customer wants, what is still to be measured. Both are saved with it.",
    ),
];

pub(super) const COPY: [Passage; 3] = [
    (
        "What for",
        "You have something that works and want to try something bolder. Go on with a copy: what you had stays in its file, just as you saved it.",
    ),
    (
        "How",
        "Press Ctrl+D, or choose \"Try something on a copy\" in the menu File. What is not saved yet is asked about first. The copy has a name of its own and is in no file until you save it with Ctrl+S.",
    ),
    (
        "Back again",
        "Files you worked on last are under \"Opened lately\" in the menu File. Undo does not lead from the copy back to the old one.",
    ),
];

pub(super) const TAKE_UP: [Passage; 3] = [
    (
        "Nothing is lost",
        "Each step is written down as soon as it is finished. If the program or the computer stops, you lose only what you were in the middle of: a drag, or a number not entered yet.",
    ),
    (
        "The next start",
        "It asks whether to take up what was left. \"Take it up again\" puts it back as it was after the last step. \"Not now\" keeps it for another start. \"Throw it away\" is for good.",
    ),
    (
        "Save it all the same",
        "What is taken up again is not saved to its file yet. Look at it, then press Ctrl+S.",
    ),
];
