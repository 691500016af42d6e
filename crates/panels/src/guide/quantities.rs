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
            "How steeply the pinion points up or down, against the frame. Nose up counts as plus.",
            "That it changes little through the travel, so that the shaft's joints keep their angles. The dashed lines are the change that you allow.",
            "The difference between upper and lower bars. Bars that act as long as each other, and are parallel seen from the side, keep it the same. An angled bar acts shorter than it is: only its length seen from the side counts. Truck arms and ladder bars turn the pinion as they swing.",
            "The slope of the pinion shaft seen from the side. This is our own meaning: neither SAE J670 nor ISO 8855 has a pinion angle.",
        ],
        Quantity::ForeAft => [
            "How far the middle of the axle has gone forward or back from its place at ride height. Forward counts as plus.",
            "So little that the tyre stays clear of the wheel opening front and rear, and the shaft's slip joint has room.",
            "The slope of the bars and their length. Level bars move the axle least around ride; short ones swing on a tighter arc.",
            "Plain geometry of bars that swing. Plus and minus as in ISO 8855.",
        ],
        Quantity::Steer => [
            "Which way the axle points, left or right of straight ahead. Left counts as plus.",
            "Nothing at all when both wheels go up together. A truck whose axle points to one side does not run straight.",
            "Bars that are longer or steeper on one side, a single upper bar beside the middle, or a diagonal bar.",
            "The axle's heading against the frame. Plus and minus as in ISO 8855.",
        ],
        _ => [
            "How far the middle of the axle has gone left or right from its place at ride height.",
            "Less than the room beside the tyres. The dashed lines are the limit that you set. Look at the full scale first: the S of a Watt's linkage may be no wider than a sheet of paper is thick.",
            "The length and slope of what holds the axle sideways. A longer panhard bar moves it less. One that is level at half travel brings the axle to the same place laid out and at full lift.",
            "The arc is plain geometry. The flat S of a Watt's linkage is in Kempe, How to Draw a Straight Line, 1877.",
        ],
    }
}

/// How it drives.
fn manners(quantity: Quantity) -> Words {
    match quantity {
        Quantity::AntiSquat => [
            "Under power the tail of a truck wants to squat. This is how much of that the bars take up. At 0 % the springs carry it all. At 100 % the bars do, and the tail stays where it is.",
            "There is no one right figure. More than 100 % lifts the tail under power. Look also at how much it changes from laid out to full lift.",
            "How high and how far ahead upper and lower bars would meet. Drag the frame end of one up or down and watch. It needs the balance from the tape sheet: wheelbase, and how high the truck's centre of gravity is.",
            "The drawing with pencil and ruler in Barton & Fieldhouse, Automotive Chassis Engineering, 2018, for the centre of gravity of the whole truck.",
        ],
        Quantity::AntiLift => [
            "Under braking the tail of a truck wants to rise. This is how much of that the bars hold down.",
            "Some, so that the tail stays calm. It goes with anti-squat: the same bars do both.",
            "Where the bars would meet, as with anti-squat, and how much of the braking the rear wheels do.",
            "Drawn as anti-squat is, with braking in place of driving, for brakes that sit on the axle.",
        ],
        Quantity::CentreAhead => [
            "Seen from the side, the axle swings about a point. Draw the upper and the lower bar on until they meet: there it is. This is how far ahead of the axle line it lies.",
            "With the point far ahead, the pinion turns little. Parallel bars never meet, and the strip then says so. What matters more is that it does not race back and forth as the truck goes up and down.",
            "The slopes of upper and lower bars. The nearer to parallel, the farther away. With truck arms or ladder bars it is at their eyes.",
            "Textbook geometry: the point that stands still at this moment when the axle moves, seen from the side.",
        ],
        Quantity::CentreHeight => [
            "Seen from the side, the axle swings about the point where upper and lower bar would meet. This is how high it lies above the underside of the rails. Below them it is a minus number.",
            "No height is right by itself. Together with how far ahead the point lies it makes the anti-squat.",
            "The height and slope of the bars. Lifting the frame ends of both lifts it.",
            "Textbook geometry: the same point as for centre ahead.",
        ],
        Quantity::RollCentre => [
            "When the truck leans, frame and axle turn against each other about a point. This is how high it is above the ground. A push sideways at this height would not lean the truck at all.",
            "No one height is right. With a high one the truck leans less, and the axle steps aside more with one wheel up. See that it moves little through the travel.",
            "The height of what holds the axle sideways, where it crosses the middle of the truck; with a panhard bar that is not always the bar's midpoint. With angled bars, where they would meet.",
            "SAE J670e, definition by forces. With pencil and ruler: the graphical method of Gillespie, 1992, chapter 7.",
        ],
        _ => [
            "How many degrees the axle steers for each degree that the truck leans. Plus is towards oversteer, where the tail comes round and the truck turns in more than you steer. Minus is towards understeer: it runs wide.",
            "Close to 0. A little towards understeer is calm. Oversteer makes a truck nervous at speed.",
            "The slope of the lower bars, or of the arms. Frame ends that are lower than the axle ends go towards understeer, higher ones towards oversteer.",
            "Olley, in Milliken & Milliken, Chassis Design: at the rear, a roll axis (the line that the axle turns about as the truck leans) which goes up towards the front is roll oversteer.",
        ],
    }
}

/// The driveshaft.
fn shaft(quantity: Quantity) -> Words {
    match quantity {
        Quantity::FrontJoint => [
            "The angle that the joint behind the transmission works at: the true one, with what goes sideways counted in, not only what is seen from the side.",
            "At ride height from half a degree to three degrees, and within one degree of the rear joint. A joint that runs quite straight wears out early, as its needle rollers do not roll.",
            "The height and slope of the transmission, the length of the shaft, and how high the truck stands.",
            "Limits of the shaft makers' handbooks. That the true angle counts: driveline installation manual J3311-1.",
        ],
        Quantity::RearJoint => [
            "The angle that the joint at the pinion works at: the true one, with what goes sideways counted in.",
            "As at the front joint: from half a degree to three at ride height, and within one degree of it, so that one evens out the other.",
            "The pinion angle most of all, so the lengths of the upper bars and their adjusters; then the ride height that you choose.",
            "Limits of the shaft makers' handbooks. The true angle as in driveline installation manual J3311-1.",
        ],
        Quantity::Unevenness => [
            "A joint at an angle speeds up and slows down twice a turn, and two joints should even each other out. This is what is left over, given as the angle of a single joint that would shake as much.",
            "At ride height less than about three degrees. More is felt as a shudder.",
            "The difference between the two joint angles. Make them alike, with the yokes of the shaft in line.",
            "How a cross joint turns: Carvill, Mechanical Engineer's Data Handbook, 2.4.3. Limit: two shaft makers' catalogues.",
        ],
        _ => [
            "How far the slip joint, the sliding splines of the shaft, has come out or gone in from where it is at ride height.",
            "Less than the slip joint can give either way, with something to spare.",
            "Where the axle goes fore and aft, how the pinion turns, and how steep the shaft is.",
            "Plain geometry: joint to joint, compared with ride height.",
        ],
    }
}

/// What carries the truck.
fn springs(quantity: Quantity) -> Words {
    match quantity {
        Quantity::SpringLength => [
            "How long the left spring is, from mount to mount.",
            "Within the spring's shortest and longest through the whole travel, one wheel up included.",
            "The spring's mounts. A spring that leans over changes less in length than the wheel moves.",
            "Plain geometry, from mount to mount.",
        ],
        Quantity::WheelRate => [
            "How much more load a wheel carries for each inch or millimetre that it rises. It is what the truck feels of the spring.",
            "Enough that the truck does not hit its stops, and no more than it rides well with.",
            "The spring's own rate, and how much of the wheel's movement reaches the spring. That counts twice: once for how far the spring is pressed, once for how well it pushes. A leaning spring makes a soft wheel.",
            "Textbook: spring rate times motion ratio squared (the motion ratio is how far the spring moves for each inch of the wheel), and what the ratio adds as it changes.",
        ],
        Quantity::Bounce => [
            "How often a second this corner would bounce on its spring if nothing damped it.",
            "At ride height between about one and two times a second, which is common practice. Slower floats, faster is hard.",
            "The wheel rate, and the weight on that corner.",
            "Textbook: the square root of wheel rate divided by mass, divided by two pi.",
        ],
        _ => [
            "The pressure that an air spring needs to carry the corner at this height.",
            "Within what the bag is made for at every height that you drive at. The findings say where it is not.",
            "The weight on the corner, how the bag leans, and how far from the wheel it stands. Its height counts too, as what a bag carries at one pressure changes with how tall it stands.",
            "The chart that comes with the bag, of the load it carries at each height. Type it in on the tape sheet.",
        ],
    }
}

/// Whether it fits.
fn fit(quantity: Quantity) -> Words {
    match quantity {
        Quantity::LipRoom => [
            "The nearest that a tyre comes to its fender lip, where the tyre is high enough to reach it. A minus number is an overlap.",
            "More than a finger's width, with one wheel up too: tyres bulge and bushings give.",
            "The width of the axle, backspacing and tyre width, and how much the axle shifts.",
            "Plain geometry of tyre and lip as you measured them.",
        ],
        Quantity::InnerRoom => [
            "The nearest that a tyre comes to rail or tub on its inside. A minus number is an overlap.",
            "Room for the tyre's bulge and for shift, through the whole travel.",
            "Backspacing, axle width and tyre width, how much the axle shifts, and where the rail kicks up.",
            "Plain geometry of tyre, rail and tub as you measured them.",
        ],
        _ => [
            "The most that any bar would have to stretch or shrink for all of them to bolt up at this height and lean. Where the bars fit each other it is 0.",
            "0 where the ends are stiff. A little is what bushings are for. The dashed lines are what you allow.",
            "More bars than it takes, arms that are fixed solid to the axle, short bars, and bars that are not parallel. It shows most with one wheel up.",
            "Worked out here from the bars' lengths; no standard has a name for it. The force that goes with it comes from how stiff the bars and their ends are.",
        ],
    }
}
