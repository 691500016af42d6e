//! The words of the pages that are read first, and of those on leaning and on bars from a kit.

type Passage = (&'static str, &'static str);

pub(super) const STEPS: [Passage; 3] = [
    (
        "1. Measure the truck",
        "Open the tape sheet and work down it with a tape. The first ten measures are enough to begin with. What you have not measured yet stands at a usual value and says \"assumed\".",
    ),
    (
        "2. Choose how the axle hangs",
        "Look at the layouts, the ways to hang an axle, drawn on your own truck. Read what each one is good at and what it costs, and take one. It comes with mounts, the places where the bars bolt on. They are a place to start from.",
    ),
    (
        "3. Drag a mount and read the findings",
        "Drag mounts to where your truck has room for them. Lower and lift the truck on the ride post, the upright scale at the left. The findings at the bottom say what won't work, what to check and what is fine. Go on until nothing says that it won't work.",
    ),
];

pub(super) const MEASURE: [Passage; 4] = [
    (
        "Where from",
        "Everything is measured from three places that a tape reaches: the line across the truck through the axle, the middle of the truck, and the underside of the straight part of the rails. The truck stands at ride height for it: the height that it is set up to drive at.",
    ),
    (
        "How to write it",
        "Type it as you would say it: 19 1/4, 489 mm, 34/2 - 1 1/8. Inches and millimetres may be mixed. \"Typing a length\" has more.",
    ),
    (
        "Taken or assumed",
        "A tick says that you took the measure. Where the assumed value is right, click \"assumed\" to accept it. The picture shows where the tape goes for the line that you are on.",
    ),
    (
        "What is not there",
        "Driveshaft, springs and body come in only when you tick them. Until then nothing is said about shaft joints, spring rates or fender lips.",
    ),
];

pub(super) const CHOOSE: [Passage; 4] = [
    (
        "Two questions",
        "What runs front to back, and what holds the axle sideways? Bars that only run front to back leave the axle free to move sideways. A bar across, a Watt's linkage (a crank with two links) or bars at an angle have to hold it.",
    ),
    (
        "How far does it travel?",
        "A panhard bar, the bar across, takes the axle sideways on an arc. Twice the travel makes about four times the arc: little on a truck that moves an inch or two, much on one that lies on its rails. Watt's linkages and angled bars stay near the middle.",
    ),
    (
        "Where is there room?",
        "Look for tank, exhaust, driveshaft and bed floor first. A mount that cannot be welded where it is drawn is no mount.",
    ),
    (
        "May it bind?",
        "Bars bind when they fight each other as the axle leans. Three-links, wishbones and angled four-links lean freely with one wheel up. Parallel four-links need bushings that give a little. Truck arms and ladder bars, which are fixed solid to the axle, need it more.",
    ),
];

pub(super) const DRAG: [Passage; 3] = [
    (
        "With the mouse",
        "Look from behind, from the side or from above (keys 1, 2 and 3) and drag a mount. It moves in the plane you look at, and everything follows at once. Hold X, Y or Z to move it only forward, sideways or up. Esc while dragging puts it back.",
    ),
    (
        "By numbers",
        "Click a mount. Its card takes what the tape says, and the arrow keys move it by one step of the tape.",
    ),
    (
        "Take it back",
        "A whole drag is one step. Ctrl+Z takes steps back, one after the other. The other side of the truck follows, unless you untick \"mirrored on the other side\" on the card.",
    ),
];

pub(super) const READ: [Passage; 3] = [
    (
        "Findings",
        "A cross says that it won't work, a triangle that you should check, a tick that it is fine. Click one: the part lights up and the truck goes to the height where it happens. Some offer a cure with one click.",
    ),
    (
        "Strips",
        "A strip is a curve that shows one thing through the whole travel: laid out at the bottom, full lift at the top. The level line across is where the truck stands now. Look at the full scale under a strip before you worry: what looks like a big bend may be thinner than a hair.",
    ),
    (
        "Which strips",
        "Axle shift and pinion angle are always there. Add others with the plus sign. Each has its own page here.",
    ),
];

pub(super) const ONE_WHEEL: [Passage; 3] = [
    (
        "Why look",
        "A driveway, a kerb or a pothole lifts one wheel. The bars then have to let the axle lean. Where they don't, something gives: a bushing, a bracket or a weld.",
    ),
    (
        "How to look",
        "Lean the truck with the small wheel under the ride post. The strips show the leaning truck beside the level one. The strip Misfit shows how much the bars would have to stretch or shrink.",
    ),
    (
        "What helps",
        "Longer bars, bars that are parallel seen from the side, bushings in place of rod ends, or a layout that has no bar more than it needs.",
    ),
];

pub(super) const AS_BUILT: [Passage; 3] = [
    (
        "Cut to suit, or as built",
        "A bar that is cut to suit is as long as its mounts are apart. A bar as built, from a kit or already cut, has its own length, and the axle goes where the bars put it. A mount's card has both.",
    ),
    (
        "What the adjusters do",
        "\"Squareness and turns…\" in the menu Truck (Ctrl+B) says how square the axle stands, and what one turn of each adjuster does to pinion angle, squareness and place. Its buttons turn an adjuster by half a turn or a whole one; \"Square it\" turns all that help at once, and says beforehand what it will do.",
    ),
    (
        "In the shop",
        "Tack it, set the truck at ride height, measure both sides from the same marks and turn the adjusters. Then move the axle through its whole travel before you weld.",
    ),
];
