//! Invented prose: sentences of English function words and made-up content words in the proportions
//! of English (about half function words; content words by the law of Zipf and Mandelbrot).

/// A small generator of random numbers (xorshift64*, Vigna 2016), so that no version of a library
/// can change the data.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// A number below `limit`.
    pub fn below(&mut self, limit: usize) -> usize {
        ((self.next() >> 33) as usize) % limit.max(1)
    }

    /// A number from 0 up to 1.
    fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

const FUNCTION_WORDS: [&str; 40] = [
    "the", "of", "and", "to", "a", "in", "that", "is", "was", "for", "it", "with", "as", "his",
    "on", "be", "at", "by", "this", "had", "not", "are", "but", "from", "or", "have", "an", "they",
    "which", "one", "were", "all", "their", "there", "been", "has", "would", "who", "when", "if",
];

const CONTENT_WORDS: usize = 60_000;

/// A rank by the law of Zipf and Mandelbrot, shares falling as 1 / (rank + FLAT): with 30 the commonest
/// content word makes up one word in 500, as it does in English.
fn rank(unit: f64) -> usize {
    const FLAT: f64 = 30.0;
    let span = (CONTENT_WORDS as f64 + FLAT) / FLAT;
    let rank = FLAT * span.powf(unit) - FLAT;
    (rank as usize).min(CONTENT_WORDS - 1)
}

/// The vocabulary.
pub struct Prose {
    content: Vec<String>,
}

impl Prose {
    pub fn new() -> Self {
        let onsets = [
            "b", "br", "c", "d", "dr", "f", "g", "gl", "h", "k", "l", "m", "n", "p", "pl", "r",
            "s", "st", "t", "tr", "v", "w",
        ];
        let vowels = ["a", "e", "i", "o", "u", "ea", "oo"];
        let codas = ["n", "r", "l", "t", "m", "nd", "sk", "rb", "ng", "x"];
        let content = (0..CONTENT_WORDS)
            .map(|number| {
                let mut rest = number;
                let mut pick = |from: &[&'static str]| {
                    let part = from[rest % from.len()];
                    rest /= from.len();
                    part
                };
                let first = [pick(&onsets), pick(&vowels), pick(&codas)].concat();
                let second = [pick(&onsets), pick(&vowels)].concat();
                first + &second + "b"
            })
            .collect();
        Self { content }
    }

    /// One sentence of 9 to 32 words, with capital and full stop.
    pub fn sentence(&self, random: &mut Random) -> String {
        let length = 9 + random.below(24);
        let mut sentence = String::new();
        for at in 0..length {
            let word = if random.below(100) < 46 {
                FUNCTION_WORDS[(random.unit() * random.unit() * 40.0) as usize]
            } else {
                &self.content[rank(random.unit())]
            };
            if at > 0 {
                sentence.push_str(if random.below(12) == 0 { ", " } else { " " });
                sentence.push_str(word);
            } else {
                let mut letters = word.chars();
                sentence.extend(letters.next().map(|letter| letter.to_ascii_uppercase()));
                sentence.push_str(letters.as_str());
            }
        }
        sentence.push('.');
        sentence
    }
}
