//! Pictures of what is on the bench.

use std::path::PathBuf;

use bevy::math::UVec2;
use rearend::answers::Answers;
use rearend::setup::Setup;
use rearend::travel::Row;
use stage::Shown;
use stage::caption::Caption;
use stage::framing::{common_view, measures, shape};
use stage::picture::{Request, Shot, fitted, tile};
use stage::view::Standard;

use super::{Desk, PictureOf};
use crate::outputs;

impl Desk {
    /// What to take a picture of, or a sentence why there is none. One look has this size; several are as wide and as high as they need.
    pub fn request(&self, of: PictureOf, path: Option<PathBuf>, size: UVec2) -> Result<Request, String> {
        let (setup, answers, units) = (self.bench.setup(), self.bench.document().answers(), self.bench.units());
        let unsolved = || "nothing of this setup is solved; see the findings".to_owned();
        let row = self
            .bench
            .shown()
            .filter(|_| answers.solved.is_ok())
            .ok_or_else(unsolved)?;
        let beside = self.bench.beside().documents();
        let mut caption = if of == PictureOf::Others && !beside.is_empty() {
            let others = beside.iter().map(|other| (other.setup(), other.answers()));
            let all: Vec<_> = std::iter::once((setup, answers)).chain(others).collect();
            Caption::of_several(&all, units)
        } else {
            Caption::of(setup, answers, &row, units)
        };
        let style = self.keeping.look.shop();
        caption.shop.clone_from(&style.name);
        // A drawn logo is for paper; a picture goes without one.
        let logo = style.logo.as_deref().filter(|path| !outputs::is_drawn(path));
        caption.logo = logo.map(outputs::logo_picture).transpose()?;
        let (shots, shape, size) = match of {
            PictureOf::Now => (vec![self.as_it_stands(&row)?], 1.0, size),
            PictureOf::Heights => self.alike(self.heights()?, size.x * 3 / 2),
            PictureOf::Others => self.alike(self.others()?, size.x * 3 / 2),
        };
        Ok(Request {
            path,
            size,
            shots,
            shape,
            caption,
        })
    }

    /// As the stage shows it, from where it is looked at.
    fn as_it_stands(&self, row: &Row) -> Result<Shot, String> {
        let mut shown = Shown::of(&self.bench).ok_or("there is nothing to show")?;
        shown.row = *row;
        shown.wheels = self.see.wheels;
        shown.body = self.see.body;
        shown.lit = self.lit().solids;
        if !self.see.ghosts {
            shown.ghosts = [None; 2];
        }
        Ok(Shot {
            measures: self.measures(Standard::Corner, &shown),
            view: self.stage.view,
            words: String::new(),
            shown,
        })
    }

    fn measures(&self, which: Standard, shown: &Shown) -> Vec<stage::picture::Measure> {
        if self.see.measures {
            measures(which, &shown.setup, &shown.row, self.bench.units())
        } else {
            Vec::new()
        }
    }

    fn heights(&self) -> Result<Vec<(Shown, String)>, String> {
        let (setup, answers) = (self.bench.setup(), self.bench.document().answers());
        let travel = &setup.travel;
        let at = [
            (travel.laid_out_m, "laid out"),
            (travel.ride_m, "ride height"),
            (travel.full_lift_m, "full lift"),
        ];
        let mut looks = Vec::new();
        for (height_m, place) in at {
            let shown = self.standing_at(setup, answers, height_m)?;
            looks.push((
                shown,
                format!("{place}, rails at {}", self.bench.units().length(height_m)),
            ));
        }
        Ok(looks)
    }

    fn others(&self) -> Result<Vec<(Shown, String)>, String> {
        let open = (self.bench.setup(), self.bench.document().answers());
        let others = self.bench.beside().documents().iter();
        let beside = others.map(|other| (other.setup(), other.answers()));
        let mut looks = Vec::new();
        for (setup, answers) in std::iter::once(open).chain(beside) {
            let shown = self.standing_at(setup, answers, setup.travel.ride_m)?;
            looks.push((shown, setup.name.clone()));
        }
        Ok(looks)
    }

    /// A setup at a height, both wheels together.
    fn standing_at(&self, setup: &Setup, answers: &Answers, height_m: f64) -> Result<Shown, String> {
        let unreached = |_| format!("\"{}\" does not reach one of its heights; see the findings", setup.name);
        let row = answers.pose(setup, height_m, 0.0).map_err(unreached)?;
        let solved = answers.solved.as_ref().map_err(ToString::to_string)?;
        Ok(Shown {
            setup: setup.clone(),
            rear_end: solved.rear_end.clone(),
            row,
            ghosts: [None; 2],
            lit: Vec::new(),
            wheels: self.see.wheels,
            faint_wheels: false,
            body: self.see.body,
        })
    }

    /// Seen from the standard view that the stage is nearest to, all in one scale, in a picture as high as they need.
    fn alike(&self, looks: Vec<(Shown, String)>, width: u32) -> (Vec<Shot>, f64, UVec2) {
        let which = self.stage.view.nearest_standard();
        let shown: Vec<_> = looks.iter().map(|(shown, _)| shown).collect();
        let shape = shape(which, &shown);
        let size = fitted(width, looks.len(), shape);
        let view = common_view(which, &shown, tile(size, looks.len(), shape));
        let shot = |(shown, words): (Shown, String)| Shot {
            measures: self.measures(which, &shown),
            view,
            words,
            shown,
        };
        (looks.into_iter().map(shot).collect(), shape, size)
    }
}
