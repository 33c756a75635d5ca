//! The tree against published roots and proofs, and against another implementation of RFC 6962.

use crate::common::*;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use ct_merkle::mem_backed_tree::MemoryBackedTree;
use logbook::tree::{self, Edge, Hash, Stored};
use serde_json::Value;
use sha2::Sha256;

fn vectors() -> Value {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/vectors/rfc6962/proofs.json");
    serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
}

/// Leaves in memory, with tiles worked out the slow way.
struct Plain(Vec<Hash>, u64);

impl Stored for Plain {
    type Error = std::convert::Infallible;

    fn hash(&mut self, level: u8, at: u64) -> Result<Hash, Self::Error> {
        self.1 += 1;
        let width = 1usize << (8 * u32::from(level));
        let first = at as usize * width;
        Ok(slow_root(&self.0[first..first + width]))
    }
}

/// RFC 6962 §2.1, word for word.
fn slow_root(leaves: &[Hash]) -> Hash {
    match leaves.len() {
        0 => tree::empty(),
        1 => leaves[0],
        n => {
            let k = n.next_power_of_two() / 2;
            tree::node(&slow_root(&leaves[..k]), &slow_root(&leaves[k..]))
        }
    }
}

#[test]
fn published_roots() {
    let vectors = vectors();
    let hex = |value: &Value| hex::decode(value.as_str().unwrap()).unwrap();
    let mut edge = Edge::default();
    let mut sizes = 0;
    for (size, root) in vectors["root_by_size_hex"].as_array().unwrap().iter().enumerate() {
        assert_eq!(edge.root().to_vec(), hex(root), "size {size}");
        if let Some(input) = vectors["leaf_inputs_hex"].get(size) {
            edge.push(tree::leaf(&hex(input)), &mut Vec::new());
        }
        sizes += 1;
    }
    assert_eq!(sizes, 9);
}

/// A hash of a vector. Some cases carry words of another length in place of a hash that does not matter or must not
/// fit: those stand for a hash of their own.
fn hash(value: &Value) -> Option<Hash> {
    let bytes = STANDARD.decode(value.as_str()?).ok().filter(|bytes| !bytes.is_empty())?;
    Some(bytes.try_into().unwrap_or_else(|other: Vec<u8>| tree::leaf(&other)))
}

fn proof(case: &Value) -> Option<Vec<Hash>> {
    case["proof"].as_array().map_or(Some(Vec::new()), |steps| steps.iter().map(hash).collect())
}

#[test]
fn published_proofs_good_and_broken() {
    let vectors = vectors();
    let number = |case: &Value, name: &str| case[name].as_u64().unwrap();
    let (mut good, mut broken) = (0, 0);
    let mut judge = |case: &Value, accepted: bool| {
        assert_eq!(accepted, !case["wantErr"].as_bool().unwrap(), "{case}");
        if accepted { good += 1 } else { broken += 1 }
    };
    for case in vectors["inclusion"].as_array().unwrap() {
        let read = || Some((hash(&case["leafHash"])?, proof(case)?, hash(&case["root"])?));
        let accepted = read().is_some_and(|(leaf, proof, root)| {
            tree::check_inclusion(&leaf, number(case, "leafIdx"), number(case, "treeSize"), &proof, &root)
        });
        judge(case, accepted);
    }
    for case in vectors["consistency"].as_array().unwrap() {
        let read = || Some((hash(&case["root1"])?, hash(&case["root2"])?, proof(case)?));
        let accepted = read().is_some_and(|(old, new, proof)| {
            tree::check_consistency(number(case, "size1"), number(case, "size2"), &old, &new, &proof)
        });
        judge(case, accepted);
    }
    assert_eq!(good + broken, 196);
    assert!(good > 10 && broken > 100, "{good} good, {broken} broken");
}

fn leaves(count: u64) -> Vec<Vec<u8>> {
    (0..count).map(|n| format!("leaf {n}").into_bytes()).collect()
}

#[test]
fn every_size_and_proof_agrees_with_another_implementation() {
    let inputs = leaves(70);
    let hashes: Vec<Hash> = inputs.iter().map(|input| tree::leaf(input)).collect();
    let mut theirs = MemoryBackedTree::<Sha256, Vec<u8>>::new();
    let mut roots = vec![theirs.root()];
    let mut edge = Edge::default();
    for (at, input) in inputs.iter().enumerate() {
        theirs.push(input.clone());
        edge.push(hashes[at], &mut Vec::new());
        let root = theirs.root();
        assert_eq!(edge.root().as_slice(), root.as_bytes().as_slice(), "size {}", at + 1);
        let size = at as u64 + 1;
        let mut stored = Plain(hashes.clone(), 0);
        assert_eq!(tree::root_at(&mut stored, size).unwrap(), edge.root());
        for seq in 0..size {
            let proof = tree::inclusion(&mut stored, seq, size).unwrap();
            let other = theirs.prove_inclusion(seq as usize);
            assert_eq!(proof.concat(), other.as_bytes(), "{seq} of {size}");
            assert!(tree::check_inclusion(&hashes[seq as usize], seq, size, &proof, &edge.root()));
        }
        for old in 1..=size {
            let proof = tree::consistency(&mut stored, old, size).unwrap();
            let other = theirs.prove_consistency((size - old) as usize);
            assert_eq!(proof.concat(), other.as_bytes(), "{old} of {size}");
            let before = tree::root_at(&mut stored, old).unwrap();
            assert!(tree::check_consistency(old, size, &before, &edge.root(), &proof));
        }
        roots.push(root);
    }
}

#[test]
fn checks_never_panic_and_refuse_what_was_spoilt() {
    let hashes: Vec<Hash> = leaves(13).iter().map(|input| tree::leaf(input)).collect();
    let mut stored = Plain(hashes.clone(), 0);
    let root = slow_root(&hashes);
    let proof = tree::inclusion(&mut stored, 5, 13).unwrap();
    for size in [0, 1, 2, 12, 14, 16, 1 << 32, u64::MAX] {
        for seq in [0, 4, 6, 12, u64::MAX - 1, u64::MAX] {
            assert!(!tree::check_inclusion(&hashes[5], seq, size, &proof, &root), "{seq} of {size}");
            let _ = tree::check_consistency(seq, size, &root, &root, &proof);
        }
    }
    for at in 0..proof.len() {
        let mut spoilt = proof.clone();
        spoilt[at][31] ^= 1;
        assert!(!tree::check_inclusion(&hashes[5], 5, 13, &spoilt, &root));
        spoilt.remove(at);
        assert!(!tree::check_inclusion(&hashes[5], 5, 13, &spoilt, &root));
    }
    assert!(!tree::check_consistency(0, 13, &tree::empty(), &root, &[]), "from nothing nothing can be proved");
}

#[test]
fn a_book_proves_past_sizes_from_its_tiles() {
    let folder = tempfile::tempdir().unwrap();
    let mut book = book(&folder.path().join("shop.glue"));
    let drafts = (0..1300).map(|n| draft(id(6, n), part(&format!("P{n}")), &[], T0)).collect();
    act(&mut book, &stamp(1, T0), drafts, &[]).unwrap();
    let log = id(0, 1);
    let head = book.own().unwrap().unwrap();
    let hashes: Vec<Hash> =
        (0..head.size).map(|seq| tree::leaf(&book.entry_at(&log, seq).unwrap().unwrap().to_bytes().unwrap())).collect();
    for size in [1, 2, 255, 256, 257, 511, 512, 1023, 1024, 1025, 1300, 1301] {
        let then = book.head_at(&log, size).unwrap().unwrap();
        assert_eq!(then.root, slow_root(&hashes[..size as usize]), "size {size}");
        let proof = book.consistency(&log, size, head.size).unwrap().unwrap();
        assert!(tree::check_consistency(size, head.size, &then.root, &head.root, &proof));
        for seq in [0, size / 2, size - 1] {
            let proof = book.inclusion(&log, seq, size).unwrap().unwrap();
            assert!(tree::check_inclusion(&hashes[seq as usize], seq, size, &proof, &then.root), "{seq} of {size}");
        }
    }
    assert_eq!(book.head_at(&log, 1302).unwrap(), None);
    assert_eq!(book.inclusion(&log, 1301, 1301).unwrap(), None);
}

#[test]
fn a_proof_reads_a_few_hundred_hashes() {
    /// Any hash will do: only the number of reads counts.
    struct Counter(u64, Edge);
    impl Stored for Counter {
        type Error = std::convert::Infallible;
        fn hash(&mut self, _: u8, _: u64) -> Result<Hash, Self::Error> {
            self.0 += 1;
            Ok([0; 32])
        }
        fn known(&self, height: u32, at: u64) -> Option<Hash> {
            self.1.peak(height, at)
        }
    }
    for size in [1_000_000u64, 999_999, (1 << 20) - 1] {
        let edge = Edge::read(size, &vec![7; 32 * size.count_ones() as usize]).unwrap();
        let mut counter = Counter(0, edge.clone());
        assert_eq!(tree::root_at(&mut counter, size).unwrap(), edge.root());
        assert_eq!(counter.0, 0, "the root of now needs no stored hash");
        let mut most = 0;
        for n in 0..64 {
            let past = size / 64 * n + n;
            tree::root_at(&mut counter, past).unwrap();
            most = most.max(std::mem::take(&mut counter.0));
            tree::inclusion(&mut counter, past, size).unwrap();
            most = most.max(std::mem::take(&mut counter.0));
        }
        println!("at most {most} hashes read at {size} entries");
        assert!(most <= 3 * 255, "{most} at {size}");
    }
}
