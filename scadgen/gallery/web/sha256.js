// SHA-256 of a text. Source: FIPS 180-4. The browser's own is not there for pages from a disk.

const primes = [];
for (let n = 2; primes.length < 64; n += 1) if (primes.every((p) => n % p)) primes.push(n);
const fraction = (value) => Math.floor((value % 1) * 2 ** 32) >>> 0;
const START = primes.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));
const ROUNDS = primes.map((prime) => cubeFraction(prime));

// The first 32 bits of the fraction of a cube root, without rounding.
function cubeFraction(prime) {
  const wanted = BigInt(prime) << 96n;
  let root = BigInt(Math.floor(Math.cbrt(prime) * 2 ** 32));
  while (root ** 3n > wanted) root -= 1n;
  while ((root + 1n) ** 3n <= wanted) root += 1n;
  return Number(root & 0xffffffffn);
}

const turned = (word, by) => (word >>> by) | (word << (32 - by));

function padded(text) {
  const bytes = new TextEncoder().encode(text);
  const blocks = new DataView(new ArrayBuffer(Math.ceil((bytes.length + 9) / 64) * 64));
  bytes.forEach((byte, k) => blocks.setUint8(k, byte));
  blocks.setUint8(bytes.length, 0x80);
  blocks.setUint32(blocks.byteLength - 8, Math.floor(bytes.length / 2 ** 29));
  blocks.setUint32(blocks.byteLength - 4, (bytes.length << 3) >>> 0);
  return blocks;
}

function schedule(blocks, at) {
  const words = [];
  for (let k = 0; k < 16; k += 1) words.push(blocks.getUint32(at + 4 * k));
  for (let k = 16; k < 64; k += 1) {
    const [a, b] = [words[k - 15], words[k - 2]];
    const low = turned(a, 7) ^ turned(a, 18) ^ (a >>> 3);
    const high = turned(b, 17) ^ turned(b, 19) ^ (b >>> 10);
    words.push((words[k - 16] + low + words[k - 7] + high) >>> 0);
  }
  return words;
}

function mixed(state, words) {
  let [a, b, c, d, e, f, g, h] = state;
  words.forEach((word, k) => {
    const high = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const first = (h + high + ((e & f) ^ (~e & g)) + ROUNDS[k] + word) >>> 0;
    const low = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const second = (low + ((a & b) ^ (a & c) ^ (b & c))) >>> 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) >>> 0, c, b, a, (first + second) >>> 0];
  });
  return [a, b, c, d, e, f, g, h];
}

// As hexadecimal digits.
export function sha256(text) {
  const blocks = padded(text);
  let state = START;
  for (let at = 0; at < blocks.byteLength; at += 64) {
    const after = mixed(state, schedule(blocks, at));
    state = state.map((word, k) => (word + after[k]) >>> 0);
  }
  return state.map((word) => word.toString(16).padStart(8, "0")).join("");
}
