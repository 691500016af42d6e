//! What every strip shows, in plain words.

use crate::quantity::Quantity;

/// What there is to say of a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct QuantityWords {
    /// What it is.
    pub what: &'static str,
    /// What is good.
    pub good: &'static str,
    /// What changes it.
    pub moves: &'static str,
    /// Whose definition it is.
    pub source: &'static str,
}

/// What the page of a strip says.
#[must_use]
pub fn quantity_words(quantity: Quantity) -> QuantityWords {
    let [what, good, moves, source] = match quantity {
        Quantity::Shift | Quantity::Pinion | Quantity::ForeAft | Quantity::Steer => place(quantity),
        Quantity::FrontJoint | Quantity::RearJoint | Quantity::Unevenness | Quantity::Slip => shaft(quantity),
        Quantity::SpringLength | Quantity::WheelRate | Quantity::Bounce | Quantity::Pressure => springs(quantity),
        Quantity::Misfit | Quantity::LipRoom | Quantity::InnerRoom => fit(quantity),
        _ => manners(quantity),
    };
    QuantityWords {
        what,
        good,
        moves,
        source,
    }
}

type Words = [&'static str; 4];

/// Where the axle is.
fn place(quantity: Quantity) -> Words {
    match quantity {
        Quantity::Pinion => [
            "How steeply the pinion points up or down, against the frame. Nose up is more than nothing.",
            "That it changes little through the travel, so that the shaft's joints keep their angles. The dashed lines are the change that you allow.",
            "The difference between upper and lower bars. Bars of the same effective length, parallel from the side, keep it constant. Seen from the side an angled bar acts shorter than it is. Truck arms and ladder bars turn the pinion as they swing.",
            "Our own definition: neither SAE J670 nor ISO 8855 defines a pinion angle. It is the slope of the pinion's axis, seen from the side.",
        ],
        Quantity::ForeAft => [
            "How far the middle of the axle stands ahead of or behind its place at ride height.",
            "Little enough that the tyre stays clear of the wheel opening front and rear, and the splines of the shaft have room.",
            "The slope of the bars and their length. Level bars move the axle least around ride; short ones swing on a tighter arc.",
            "Plain geometry of bars that swing. Forward is more than nothing, with the axes of ISO 8855.",
        ],
        Quantity::Steer => [
            "Which way the axle heads, left or right of straight ahead.",
            "Nothing when both wheels go up together. A truck whose axle points aside does not run straight.",
            "Bars that are longer or steeper on one side, a single upper bar beside the middle, or a diagonal bar.",
            "The axle's heading against the frame, left more than nothing, with the axes of ISO 8855.",
        ],
        _ => [
            "How far the middle of the axle stands to the left or right of its place at ride height.",
            "Less than what the tyres have to spare. The dashed lines are the limit that you set. Look at the full scale first: the S of a Watt's linkage may be thinner than paper.",
            "The length and slope of what holds the axle sideways. A longer panhard bar moves it less. Level at half travel, the axle is at the same place laid out and fully lifted.",
            "The arc is plain geometry. The flat S is in Kempe, How to Draw a Straight Line, 1877.",
        ],
    }
}

/// How it drives.
fn manners(quantity: Quantity) -> Words {
    match quantity {
        Quantity::AntiSquat => [
            "How much of the squat under power the links take up. At nothing, the springs carry it all; at 100 % the links do, and the tail stays where it is.",
            "There is no one right figure. More than 100 % lifts the tail under power. Look also at how much it changes from laid out to full lift.",
            "How high and how far ahead the bars meet. Drag the frame end of an upper or lower bar up or down and watch. It needs the balance: wheelbase and height of the centre of gravity.",
            "Textbook construction, as in Barton & Fieldhouse, Automotive Chassis Engineering, 2018, on the whole truck's centre of gravity.",
        ],
        Quantity::AntiLift => [
            "How much of the lift of the tail under braking the links hold down, by the share that the rear wheels brake.",
            "Some, so that the tail stays calm. It goes with anti-squat: the same links do both.",
            "Where the bars meet, as with anti-squat, and the share of braking at the rear.",
            "The construction of anti-squat with the braking force in place of the drive, for brakes that sit on the axle.",
        ],
        Quantity::CentreAhead => [
            "How far ahead of the axle line the point lies that the axle swings about at this moment, seen from the side. Draw the upper and the lower bar on until they meet: there it is.",
            "Far ahead, the pinion turns little. Parallel bars never meet, and the strip then says so. What matters more is that it does not rush about.",
            "The slopes of upper and lower bars. The nearer to parallel, the farther away. With truck arms or ladder bars it is at their eyes.",
            "Textbook kinematics: the point of the axle that stands still at this moment, seen from the side.",
        ],
        Quantity::CentreHeight => [
            "How high the point lies that the axle swings about seen from the side, against the underside of the rails. Below it is less than nothing.",
            "No height is right by itself. Together with how far ahead it lies it makes the anti-squat.",
            "The height and slope of the bars. Lifting the frame end of both lifts the centre.",
            "Textbook kinematics, the same point as centre ahead.",
        ],
        Quantity::RollCentre => [
            "How high above the ground the point is that the axle rolls about under the frame. A push sideways at this height leans nothing.",
            "No one height is right. High, the truck leans less and the axle steps aside more with one wheel up. Look that it moves little through the travel.",
            "The height of what holds the axle sideways, where it crosses the middle of the truck; with a panhard bar that is not always the bar's midpoint. With angled bars, where they would meet.",
            "SAE J670e, definition by forces. With pencil and ruler: the graphical method of Gillespie, 1992, chapter 7.",
        ],
        _ => [
            "How many degrees the axle steers for each degree that the truck leans. More than nothing is towards oversteer.",
            "Close to nothing. A little towards understeer is calm; oversteer makes a truck nervous on the motorway.",
            "The slope of the lower bars, or of the arms. Frame ends that are lower than the axle ends go towards understeer, higher ones towards oversteer.",
            "Olley, in Milliken & Milliken, Chassis Design: at the rear, a roll axis that goes up towards the front is roll oversteer.",
        ],
    }
}

/// The driveshaft.
fn shaft(quantity: Quantity) -> Words {
    match quantity {
        Quantity::FrontJoint => [
            "The angle that the joint behind the transmission works at, in space and not only seen from the side.",
            "At ride height from half a degree to three degrees, within one degree of the rear joint. Needles of a joint that runs quite straight do not roll.",
            "The height and slope of the transmission, the length of the shaft, and how high the truck stands.",
            "Limits of the shaft makers' handbooks. That it is the angle in space: driveline installation manual J3311-1.",
        ],
        Quantity::RearJoint => [
            "The angle that the joint at the pinion works at, in space.",
            "As at the front joint: from half a degree to three at ride height, and within one degree of it, so that one evens out the other.",
            "The pinion angle most of all, so upper bar lengths and adjusters; then ride height.",
            "Limits of the shaft makers' handbooks; the angle in space as in driveline installation manual J3311-1.",
        ],
        Quantity::Unevenness => [
            "How unevenly the pinion turns while the transmission turns evenly. It is given as the angle of one single joint that would do the same.",
            "At ride height less than about three degrees. More is felt as a shudder.",
            "The difference between both joint angles. Make them alike, with the yokes in line.",
            "Relation of a cross joint: Carvill, Mechanical Engineer's Data Handbook, 2.4.3. Limit: two shaft makers' catalogues.",
        ],
        _ => [
            "How far the splines of the shaft have come out or gone in since ride height.",
            "Less than the splines have to spare either way, with something left over.",
            "Where the axle goes fore and aft, how the pinion turns, and how steep the shaft is.",
            "Plain geometry: joint to joint, against ride height.",
        ],
    }
}

/// What carries the truck.
fn springs(quantity: Quantity) -> Words {
    match quantity {
        Quantity::SpringLength => [
            "How long the left spring is at this height, from mount to mount.",
            "Within the spring's shortest and longest through the whole travel, one wheel up included.",
            "The spring's mounts. Leaned over, it changes less in length than the wheel moves.",
            "Plain geometry, from mount to mount.",
        ],
        Quantity::WheelRate => [
            "How much more a wheel carries for each bit that it rises. It is what the truck feels of the spring.",
            "Enough that the truck does not hit its stops, and no more than it rides well with.",
            "The spring's own rate, and twice over how much of the wheel's movement reaches the spring: a leaning spring gives a softer wheel.",
            "Spring rate by motion ratio squared, and what the changing ratio adds: the slope of the load at the wheel.",
        ],
        Quantity::Bounce => [
            "How often a second this corner would bounce on its spring if nothing damped it.",
            "Between about one and two a second at ride height, which is common practice. Slower floats, faster is hard.",
            "Wheel rate against the weight on the corner.",
            "Textbook: the square root of rate over mass, by two pi.",
        ],
        _ => [
            "The pressure that an air spring needs to carry the corner at this height.",
            "Within what the bag is made for at every height that you drive at. The findings say where it is not.",
            "The weight on the corner, how the bag leans, and how far from the wheel it stands; and its height, as the load it carries at a pressure changes with height.",
            "The chart of loads by height that comes with the bag, put in on the tape sheet.",
        ],
    }
}

/// Whether it fits.
fn fit(quantity: Quantity) -> Words {
    match quantity {
        Quantity::LipRoom => [
            "The nearest that a tyre comes to its fender lip, at heights where the tyre reaches it. Less than nothing is an overlap.",
            "More than you would put a finger into, with one wheel up too: tyres bulge and bushings give.",
            "The width of the axle, backspacing and tyre width, and how much the axle shifts.",
            "Plain geometry of tyre and lip as you measured them.",
        ],
        Quantity::InnerRoom => [
            "The nearest that a tyre comes to rail or tub on its inside. Less than nothing is an overlap.",
            "Room for the tyre's bulge and for shift, through the whole travel.",
            "Backspacing, axle width and tyre width, how much the axle shifts, and where the rail kicks up.",
            "Plain geometry of tyre, rail and tub as you measured them.",
        ],
        _ => [
            "The most that any bar would have to stretch or shrink at this pose. Where all bars fit each other there is nothing.",
            "Nothing where the ends are stiff. A little is what bushings are for; the dashed lines are what you allow.",
            "Having more bars than it takes, arms that are fast to the axle, short bars, and bars that are not parallel. It shows most with one wheel up.",
            "Worked out here from the bars' lengths: no standard has a name for it. The force comes from the stiffness of bar and ends.",
        ],
    }
}
