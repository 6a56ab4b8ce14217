//! Codes that let a phone in once, and how often wrong ones may be tried.

use crate::record::random_letters;
use crate::web::guard::Bucket;
use sha2::{Digest, Sha256};
use std::collections::HashMap;
use std::net::IpAddr;
use std::time::{Duration, Instant};

/// Bytes of a code that nobody can guess.
const BYTES: usize = 16;

/// How long a code is good.
pub const GOOD_FOR: Duration = Duration::from_secs(300);

/// Codes that are good at the same time; the oldest goes.
const MOST: usize = 20;

/// Wrong codes: so many at once from an address, and from all, and so many more a second.
const WRONG_ONE: (f64, f64) = (10.0, 0.2);
const WRONG_ALL: (f64, f64) = (60.0, 1.0);

/// Addresses that are remembered.
const MOST_ADDRESSES: usize = 4096;

/// A code that has been shown and not been used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Code {
    /// As it stands in the address.
    pub text: String,
    /// What the phone will be called.
    pub name: String,
    until: Instant,
}

/// Why a code lets nobody in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum No {
    /// It was used, is too old, or never was one.
    NotGood,
    /// Too many that are not good have come.
    TooMany,
}

/// All that are good.
#[derive(Debug)]
pub struct Codes {
    good: Vec<Code>,
    last: String,
    one: HashMap<IpAddr, Bucket>,
    all: Bucket,
}

impl Codes {
    /// None yet.
    pub fn new(now: Instant) -> Codes {
        Codes {
            good: Vec::new(),
            last: String::new(),
            one: HashMap::new(),
            all: Bucket::new(WRONG_ALL.1, WRONG_ALL.0, now),
        }
    }

    /// Makes one for a phone to be called `name`.
    ///
    /// # Errors
    /// Where the system gives no random bytes.
    pub fn make(&mut self, name: &str, now: Instant) -> Result<String, getrandom::Error> {
        let text = random_letters::<BYTES>()?;
        self.good.retain(|c| c.until > now);
        let over = (self.good.len() + 1).saturating_sub(MOST);
        self.good.drain(..over);
        self.last.clone_from(&text);
        self.good.push(Code { text: text.clone(), name: name.to_owned(), until: now + GOOD_FOR });
        Ok(text)
    }

    /// The one made last, while it is good.
    pub fn newest(&self, now: Instant) -> Option<&Code> {
        self.good.iter().find(|c| c.text == self.last && c.until > now)
    }

    /// What the phone with that code will be called; the code stays good.
    ///
    /// # Errors
    /// [`No`].
    pub fn look(&mut self, text: &str, from: IpAddr, now: Instant) -> Result<String, No> {
        self.find(text, from, now).map(|i| self.good[i].name.clone())
    }

    /// Uses a code up.
    ///
    /// # Errors
    /// [`No`].
    pub fn take(&mut self, text: &str, from: IpAddr, now: Instant) -> Result<Code, No> {
        self.find(text, from, now).map(|i| self.good.remove(i))
    }

    /// Puts one back that was taken and let nobody in after all.
    pub fn put_back(&mut self, code: Code) {
        self.good.push(code);
    }

    /// No code is good any more.
    pub fn clear(&mut self) {
        self.good.clear();
    }

    fn find(&mut self, text: &str, from: IpAddr, now: Instant) -> Result<usize, No> {
        if self.one.len() >= MOST_ADDRESSES {
            self.one.clear();
        }
        let one = self.one.entry(from).or_insert_with(|| Bucket::new(WRONG_ONE.1, WRONG_ONE.0, now));
        if !(one.has_room(now) && self.all.has_room(now)) {
            return Err(No::TooMany);
        }
        self.good.retain(|c| c.until > now);
        let asked = digest(text);
        // All are looked at, whichever it is.
        let found = self
            .good
            .iter()
            .enumerate()
            .fold(None, |found, (i, code)| if same(&digest(&code.text), &asked) { Some(i) } else { found });
        if found.is_none() {
            one.take(now);
            self.all.take(now);
        }
        found.ok_or(No::NotGood)
    }
}

/// SHA-256 of a text.
pub fn digest(text: &str) -> [u8; 32] {
    Sha256::digest(text.as_bytes()).into()
}

/// Whether two digests are the same, in the same time wherever they differ.
pub fn same(a: &[u8; 32], b: &[u8; 32]) -> bool {
    std::hint::black_box(a.iter().zip(b).fold(0, |differ, (a, b)| differ | (a ^ b))) == 0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::letters;
    use std::collections::HashSet;

    const HERE: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 168, 1, 20));

    fn other(n: u8) -> IpAddr {
        IpAddr::from([10, 0, 0, n])
    }

    #[test]
    fn a_code_is_good_once_and_for_five_minutes() {
        let now = Instant::now();
        let mut codes = Codes::new(now);
        let first = codes.make("Ada's phone", now).unwrap();
        assert_eq!(first.len(), 32);
        assert_eq!(codes.look(&first, HERE, now), Ok("Ada's phone".to_owned()));
        assert_eq!(codes.take(&first, HERE, now).unwrap().name, "Ada's phone");
        assert_eq!(codes.take(&first, HERE, now), Err(No::NotGood));
        let second = codes.make("Ben's phone", now).unwrap();
        let minute = |n: u64| now + Duration::from_secs(60 * n);
        assert_eq!(codes.newest(minute(4)).unwrap().text, second);
        assert!(codes.look(&second, HERE, minute(5) - Duration::from_millis(1)).is_ok());
        assert_eq!(codes.take(&second, HERE, minute(5)), Err(No::NotGood));
        assert!(codes.newest(minute(5)).is_none());
        let all: HashSet<String> = (0..1000).map(|_| codes.make("x", now).unwrap()).collect();
        assert_eq!((all.len(), codes.good.len()), (1000, MOST));
    }

    #[test]
    fn wrong_codes_are_stemmed_by_address_and_over_all_and_good_ones_are_not_counted() {
        let now = Instant::now();
        let mut codes = Codes::new(now);
        for _ in 0..50 {
            let good = codes.make("x", now).unwrap();
            codes.take(&good, HERE, now).unwrap();
        }
        let mut wrong = |from, at| codes.look("0", from, at);
        assert!((0..10).all(|_| wrong(HERE, now) == Err(No::NotGood)));
        assert_eq!(wrong(HERE, now), Err(No::TooMany));
        assert_eq!(wrong(other(1), now), Err(No::NotGood));
        // One more after five seconds.
        let later = now + Duration::from_secs(5);
        assert_eq!(wrong(HERE, later), Err(No::NotGood));
        assert_eq!(wrong(HERE, later), Err(No::TooMany));
        let over_all = (2..200).filter(|n| wrong(other(*n), later) == Err(No::NotGood)).count();
        assert!((40..60).contains(&over_all), "{over_all}");
        assert_eq!(wrong(other(201), later), Err(No::TooMany));
    }

    #[test]
    fn digests_are_those_of_the_standard() {
        // FIPS 180-4's example "abc", set beside Python's hashlib.
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(letters(&digest("abc")), abc);
        assert!(same(&digest("abc"), &digest("abc")));
        let mut near = digest("abc");
        near[31] ^= 1;
        assert!(!same(&digest("abc"), &near));
    }
}
