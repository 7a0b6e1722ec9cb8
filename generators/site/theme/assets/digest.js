/* SHA-256 (FIPS 180-4) of bytes, in hexadecimal. The browser's own is missing on a page from a plain http address, where records are taken out and brought in too. */
(() => {
  "use strict";
  // The first 32 bits of the fractional parts of the cube roots of the first 64 primes, as the standard prints them.
  const K = Uint32Array.from(("428a2f98 71374491 b5c0fbcf e9b5dba5 3956c25b 59f111f1 923f82a4 ab1c5ed5 d807aa98 12835b01 243185be 550c7dc3 72be5d74 80deb1fe 9bdc06a7 c19bf174 "
    + "e49b69c1 efbe4786 0fc19dc6 240ca1cc 2de92c6f 4a7484aa 5cb0a9dc 76f988da 983e5152 a831c66d b00327c8 bf597fc7 c6e00bf3 d5a79147 06ca6351 14292967 "
    + "27b70a85 2e1b2138 4d2c6dfc 53380d13 650a7354 766a0abb 81c2c92e 92722c85 a2bfe8a1 a81a664b c24b8b70 c76c51a3 d192e819 d6990624 f40e3585 106aa070 "
    + "19a4c116 1e376c08 2748774c 34b0bcb5 391c0cb3 4ed8aa4a 5b9cca4f 682e6ff3 748f82ee 78a5636f 84c87814 8cc70208 90befffa a4506ceb bef9a3f7 c67178f2").split(" "), (word) => parseInt(word, 16));
  const BEGIN = ["6a09e667", "bb67ae85", "3c6ef372", "a54ff53a", "510e527f", "9b05688c", "1f83d9ab", "5be0cd19"].map((word) => parseInt(word, 16));
  const right = (word, by) => (word >>> by) | (word << (32 - by));

  const sha256 = (bytes) => {
    const state = Uint32Array.from(BEGIN), w = new Uint32Array(64);
    const whole = new Uint8Array((((bytes.length + 8) >> 6) + 1) << 6);
    whole.set(bytes);
    whole[bytes.length] = 0x80;
    const view = new DataView(whole.buffer);
    view.setUint32(whole.length - 8, Math.floor(bytes.length / 2 ** 29));
    view.setUint32(whole.length - 4, bytes.length * 8 >>> 0);
    for (let start = 0; start < whole.length; start += 64) {
      for (let i = 0; i < 16; i += 1) w[i] = view.getUint32(start + 4 * i);
      for (let i = 16; i < 64; i += 1) {
        const s0 = right(w[i - 15], 7) ^ right(w[i - 15], 18) ^ (w[i - 15] >>> 3), s1 = right(w[i - 2], 17) ^ right(w[i - 2], 19) ^ (w[i - 2] >>> 10);
        w[i] = w[i - 16] + s0 + w[i - 7] + s1;
      }
      let a = state[0], b = state[1], c = state[2], d = state[3], e = state[4], f = state[5], g = state[6], h = state[7];
      for (let i = 0; i < 64; i += 1) {
        const one = (h + (right(e, 6) ^ right(e, 11) ^ right(e, 25)) + ((e & f) ^ (~e & g)) + K[i] + w[i]) | 0;
        const two = ((right(a, 2) ^ right(a, 13) ^ right(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
        h = g; g = f; f = e; e = (d + one) | 0; d = c; c = b; b = a; a = (one + two) | 0;
      }
      state[0] += a; state[1] += b; state[2] += c; state[3] += d; state[4] += e; state[5] += f; state[6] += g; state[7] += h;
    }
    return [...state].map((word) => word.toString(16).padStart(8, "0")).join("");
  };

  if (typeof module === "object") module.exports = { sha256 }; else window.almanacSha256 = sha256;
})();
