//! Pairing of quotation marks.
//!
//! Open marks wait on a stack. A closing mark takes the nearest open one of its family, and what was
//! opened later without being closed is dropped. For the marks that may be something else (single
//! ones, straight ones) the closing mark is chosen when the opening one is met: the first that can't
//! be an apostrophe or an inch sign, else the first that can close at all, as long as no other
//! quotation of the family begins before it.

use super::marks::{Family, Mark};

/// The result for one block.
#[derive(Debug, Default)]
pub(super) struct Paired {
    /// Opening and closing mark of each quotation.
    pub pairs: Vec<(Mark, Mark)>,
    /// Opening marks that were never closed, in order.
    pub unclosed: Vec<Mark>,
}

/// Pairs the marks of a block.
pub(super) fn pair(marks: &[Mark]) -> Paired {
    let mut pairer = Pairer {
        marks,
        stack: Vec::new(),
        waiting: Default::default(),
        chosen: vec![false; marks.len()],
        pairs: Vec::new(),
    };
    for (index, mark) in marks.iter().enumerate() {
        pairer.take(index, mark);
    }
    Paired {
        unclosed: pairer.stack.iter().map(|open| open.mark).collect(),
        pairs: pairer.pairs,
    }
}

/// An opening mark that waits for its closing one.
struct Open {
    mark: Mark,
    /// The index of the closing mark, where it has been chosen.
    closer: Option<usize>,
}

struct Pairer<'a> {
    marks: &'a [Mark],
    stack: Vec<Open>,
    /// Where on the stack the marks of each family wait, so that none has to be searched for.
    waiting: [Vec<usize>; 6],
    /// Which marks have been chosen as closing ones.
    chosen: Vec<bool>,
    pairs: Vec<(Mark, Mark)>,
}

impl Pairer<'_> {
    fn take(&mut self, index: usize, mark: &Mark) {
        if self.is_chosen(index) {
            self.close(mark);
            return;
        }
        match mark.family {
            Family::Single | Family::StraightSingle => {
                if mark.opens
                    && let Some(closer) = self.choose(index, mark)
                {
                    self.open(*mark, Some(closer));
                }
            }
            Family::StraightDouble => {
                let open = self.nearest(mark.family);
                if mark.closes && open.is_some_and(|open| open.closer.is_none()) {
                    self.close(mark);
                } else if mark.opens && !self.goes_on(mark) {
                    let closer = self.choose(index, mark);
                    self.open(*mark, closer);
                }
            }
            Family::Double | Family::Angle | Family::SingleAngle => self.take_plain(mark),
        }
    }

    fn take_plain(&mut self, mark: &Mark) {
        let open = self.nearest(mark.family).map(|open| open.mark.sign);
        // `“` opens, but closes what `„` opened.
        let closes = mark.closes
            && match (open, mark.sign) {
                (None, _) | (_, '„') => false,
                (Some(open), '“' | '‟') => open == '„',
                (Some(_), _) => true,
            };
        if closes {
            self.close(mark);
        } else if mark.opens && !self.goes_on(mark) {
            self.open(*mark, None);
        }
    }

    /// Whether the mark only shows, at the start of a paragraph, that the quotation continues.
    fn goes_on(&self, mark: &Mark) -> bool {
        mark.starts_paragraph
            && self
                .nearest(mark.family)
                .is_some_and(|open| open.mark.sign == mark.sign)
    }

    fn is_chosen(&self, index: usize) -> bool {
        self.chosen.get(index).copied().unwrap_or_default()
    }

    /// The nearest mark of a family that waits.
    fn nearest(&self, family: Family) -> Option<&Open> {
        // One place a family, in the order of their declaration.
        let place = self.waiting[family as usize].last()?;
        self.stack.get(*place)
    }

    fn open(&mut self, mark: Mark, closer: Option<usize>) {
        self.waiting[mark.family as usize].push(self.stack.len());
        self.stack.push(Open { mark, closer });
    }

    /// Closes the nearest open mark of the family; drops those opened after it.
    fn close(&mut self, mark: &Mark) {
        let Some(place) = self.waiting[mark.family as usize].last().copied() else {
            return;
        };
        for (above, open) in self.stack.split_off(place).into_iter().enumerate() {
            self.waiting[open.mark.family as usize].pop();
            if above == 0 {
                self.pairs.push((open.mark, *mark));
            } else if let Some(chosen) = open.closer.and_then(|at| self.chosen.get_mut(at)) {
                *chosen = false;
            }
        }
    }

    /// The closing mark for an opening one whose closing marks may be something else.
    fn choose(&mut self, index: usize, opening: &Mark) -> Option<usize> {
        let mut inner = 0_usize;
        let mut weak = None;
        let mut strong = None;
        for (at, mark) in self.marks.iter().enumerate().skip(index + 1) {
            if self.is_chosen(at) {
                break; // here ends the quotation around this one
            }
            if mark.family == opening.family {
                let closes = mark.closes && (mark.sign != '‘' || opening.sign == '‚');
                if closes && inner == 0 {
                    if !mark.weak {
                        strong = Some(at);
                        break;
                    }
                    weak = weak.or(Some(at));
                } else if mark.opens {
                    break;
                }
            } else if matches!(mark.family, Family::Single | Family::StraightSingle) {
                // Apostrophes, most of them.
            } else if mark.closes && inner > 0 {
                inner -= 1;
            } else if mark.closes && !self.waiting[mark.family as usize].is_empty() {
                break;
            } else if mark.opens {
                inner += 1;
            }
        }
        let closer = strong.or(weak)?;
        if let Some(chosen) = self.chosen.get_mut(closer) {
            *chosen = true;
        }
        Some(closer)
    }
}
