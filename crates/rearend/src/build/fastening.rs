//! What bolts and welds are to be, as is common practice.

use super::{Job, Section};

pub(super) fn section(job: &Job) -> Section {
    let mut notes = vec![
        "Bolts: grade 8 or class 10.9, with washers and prevailing-torque nuts that are used once. The shank is plain through the joint and at least half way through the plate at the nut: no thread where the joint shears the bolt. \"Parts to buy\" has grip, length and washers.".to_owned(),
        "Torque: as the bolt's maker gives it for its size and grade, dry or oiled. This sheet states no figure for it.".to_owned(),
    ];
    if job.setup.watt.is_some() {
        notes.push("The bolt of the Watt's pivot is the exception: draw its nut up until the crank has no play endways and still turns by hand, and no further. Its prevailing-torque nut keeps it there.".to_owned());
    }
    notes.extend([
        "Welds: by a qualified welder, all round each saddle and on both sides of each straight edge, the ends welded round. The leg of a fillet is about as long as the thinner of the two is thick.".to_owned(),
        "Paint, scale and galvanizing are ground off where it is welded.".to_owned(),
    ]);
    Section {
        title: "Bolts and welds".to_owned(),
        text: vec![
            "Common practice, to be checked by people who are qualified to: nothing here is reckoned for this truck."
                .to_owned(),
        ],
        notes,
        ..Section::default()
    }
}
