//! The RFC 6962 tree over a log's entries: leaf and node hashes, the right edge, proofs, and their checks.
//!
//! Source: RFC 6962 §2.1, RFC 9162 §2.1.3.2 and §2.1.4.2 (the checking algorithms). Stored are the hashes of every
//! complete subtree of 256, 256², … leaves (levels 1, 2, …; level 0 are the leaves); all else is worked out from them.

use sha2::{Digest, Sha256};

/// A SHA-256 value.
pub type Hash = [u8; 32];

/// Entries under one stored hash, as a power of two.
pub const TILE_BITS: u32 = 8;

/// Root of the empty tree: SHA-256 of nothing.
pub fn empty() -> Hash {
    Sha256::digest([]).into()
}

/// Hash of an entry's bytes: SHA-256(0x00 ‖ bytes).
pub fn leaf(bytes: &[u8]) -> Hash {
    let mut hasher = Sha256::new();
    hasher.update([0u8]);
    hasher.update(bytes);
    hasher.finalize().into()
}

/// Hash over two subtrees: SHA-256(0x01 ‖ left ‖ right).
pub fn node(left: &Hash, right: &Hash) -> Hash {
    let mut hasher = Sha256::new();
    hasher.update([1u8]);
    hasher.update(left);
    hasher.update(right);
    hasher.finalize().into()
}

/// The right edge: the hashes of the complete subtrees of which a tree of this size consists, largest first.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Edge {
    size: u64,
    peaks: Vec<Hash>,
}

/// A complete subtree whose hash is to be stored: level, place among its level, hash.
pub type Tile = (u8, u64, Hash);

impl Edge {
    /// Reads an edge back; None when the bytes do not fit the size.
    pub fn read(size: u64, bytes: &[u8]) -> Option<Edge> {
        let (peaks, rest) = bytes.as_chunks::<32>();
        let fits = rest.is_empty() && peaks.len() == size.count_ones() as usize;
        fits.then(|| Edge { size, peaks: peaks.to_vec() })
    }

    /// The edge as stored: its hashes one after the other, largest subtree first.
    pub fn write(&self) -> Vec<u8> {
        self.peaks.concat()
    }

    /// Leaves under it.
    pub fn size(&self) -> u64 {
        self.size
    }

    /// The hashes, largest subtree first.
    pub fn peaks(&self) -> &[Hash] {
        &self.peaks
    }

    /// Adds a leaf; what complete tiles it finished goes to `tiles`.
    pub fn push(&mut self, leaf: Hash, tiles: &mut Vec<Tile>) {
        let mut hash = leaf;
        let mut height = 0u32;
        while (self.size >> height) & 1 == 1 {
            if let Some(left) = self.peaks.pop() {
                hash = node(&left, &hash);
            }
            height += 1;
            if height.is_multiple_of(TILE_BITS) {
                tiles.push(((height / TILE_BITS) as u8, self.size >> height, hash));
            }
        }
        self.peaks.push(hash);
        self.size += 1;
    }

    /// The peak over the complete subtree of 2^height leaves at this place among its height, if it is one.
    pub fn peak(&self, height: u32, at: u64) -> Option<Hash> {
        let width = 1u64.checked_shl(height)?;
        let above = self.size.checked_shr(height + 1).unwrap_or(0);
        let is_peak = self.size & width != 0 && at == above << 1;
        is_peak.then(|| self.peaks.get(above.count_ones() as usize).copied()).flatten()
    }

    /// Root of the tree.
    pub fn root(&self) -> Hash {
        let mut smaller = self.peaks.iter().rev();
        match smaller.next() {
            None => empty(),
            Some(last) => smaller.fold(*last, |right, left| node(left, &right)),
        }
    }
}

/// Gives the hash of a complete subtree of 256^level leaves by its place among its level.
pub trait Stored {
    /// What reading may run into.
    type Error;
    /// Level 0: a leaf.
    fn hash(&mut self, level: u8, at: u64) -> Result<Hash, Self::Error>;

    /// Hash of the complete subtree of 2^height leaves, where it is known without asking (a peak of the right edge).
    fn known(&self, height: u32, at: u64) -> Option<Hash> {
        let _ = (height, at);
        None
    }
}

/// Hash of a complete subtree of 2^height leaves.
fn complete<S: Stored>(stored: &mut S, height: u32, at: u64) -> Result<Hash, S::Error> {
    if let Some(hash) = stored.known(height, at) {
        return Ok(hash);
    }
    if height.is_multiple_of(TILE_BITS) {
        return stored.hash((height / TILE_BITS) as u8, at);
    }
    let left = complete(stored, height - 1, 2 * at)?;
    let right = complete(stored, height - 1, 2 * at + 1)?;
    Ok(node(&left, &right))
}

/// Largest power of two below a size of two or more.
fn split(size: u64) -> u64 {
    1 << (63 - (size - 1).leading_zeros())
}

/// Hash over the leaves `from..to`, where the range is one that the tree's own splits make.
fn span<S: Stored>(stored: &mut S, from: u64, to: u64) -> Result<Hash, S::Error> {
    let size = to - from;
    if size.is_power_of_two() {
        let height = size.trailing_zeros();
        return complete(stored, height, from >> height);
    }
    let middle = from + split(size);
    let left = span(stored, from, middle)?;
    let right = span(stored, middle, to)?;
    Ok(node(&left, &right))
}

/// Root of the first `size` leaves.
pub fn root_at<S: Stored>(stored: &mut S, size: u64) -> Result<Hash, S::Error> {
    if size == 0 { Ok(empty()) } else { span(stored, 0, size) }
}

/// Proof that leaf `seq` is in the tree of `size` leaves, nearest hash first. Empty when `seq` is not below `size`.
pub fn inclusion<S: Stored>(stored: &mut S, seq: u64, size: u64) -> Result<Vec<Hash>, S::Error> {
    let mut proof = Vec::new();
    if seq >= size {
        return Ok(proof);
    }
    let (mut from, mut to) = (0, size);
    while to - from > 1 {
        let middle = from + split(to - from);
        if seq < middle {
            proof.push(span(stored, middle, to)?);
            to = middle;
        } else {
            proof.push(span(stored, from, middle)?);
            from = middle;
        }
    }
    proof.reverse();
    Ok(proof)
}

/// Proof that the tree of `old` leaves is the beginning of the tree of `new`. Empty when there is nothing to prove.
pub fn consistency<S: Stored>(stored: &mut S, old: u64, new: u64) -> Result<Vec<Hash>, S::Error> {
    let mut proof = Vec::new();
    if old == 0 || old >= new {
        return Ok(proof);
    }
    let (mut from, mut to, mut whole) = (0, new, true);
    while old != to {
        let middle = from + split(to - from);
        if old <= middle {
            proof.push(span(stored, middle, to)?);
            to = middle;
        } else {
            proof.push(span(stored, from, middle)?);
            from = middle;
            whole = false;
        }
    }
    if !whole {
        proof.push(span(stored, from, to)?);
    }
    proof.reverse();
    Ok(proof)
}

/// Checks an inclusion proof (RFC 9162 §2.1.3.2). Never panics on any input.
pub fn check_inclusion(leaf: &Hash, seq: u64, size: u64, proof: &[Hash], root: &Hash) -> bool {
    if seq >= size {
        return false;
    }
    let (mut at, mut last, mut hash) = (seq, size - 1, *leaf);
    for step in proof {
        if last == 0 {
            return false;
        }
        if at & 1 == 1 || at == last {
            hash = node(step, &hash);
            while at & 1 == 0 && at != 0 {
                at >>= 1;
                last >>= 1;
            }
        } else {
            hash = node(&hash, step);
        }
        at >>= 1;
        last >>= 1;
    }
    last == 0 && hash == *root
}

/// Checks a consistency proof (RFC 9162 §2.1.4.2). Never panics on any input. From size 0 nothing can be proved: refused.
pub fn check_consistency(old: u64, new: u64, old_root: &Hash, new_root: &Hash, proof: &[Hash]) -> bool {
    if old == new {
        return proof.is_empty() && old_root == new_root && (old != 0 || *old_root == empty());
    }
    if old == 0 || old > new {
        return false;
    }
    let (mut first, steps) = match proof.split_first() {
        Some(_) if old.is_power_of_two() => (*old_root, proof),
        Some((first, steps)) => (*first, steps),
        None => return false,
    };
    let mut second = first;
    let (mut at, mut last) = (old - 1, new - 1);
    while at & 1 == 1 {
        at >>= 1;
        last >>= 1;
    }
    for step in steps {
        if last == 0 {
            return false;
        }
        if at & 1 == 1 || at == last {
            first = node(step, &first);
            second = node(step, &second);
            while at & 1 == 0 && at != 0 {
                at >>= 1;
                last >>= 1;
            }
        } else {
            second = node(&second, step);
        }
        at >>= 1;
        last >>= 1;
    }
    last == 0 && first == *old_root && second == *new_root
}
