/* A photograph made small enough to keep with a record: the long side first 1600 pixels, then less, until it weighs a quarter of a megabyte or so.
   Drawing it anew leaves out what a camera writes beside the picture: place, name, time. */
(() => {
  "use strict";
  const SIDES = [1600, 1280, 1024, 800], QUALITY = [0.8, 0.65], ENOUGH = 250000;
  const jpeg = (canvas, quality) => new Promise((good) => canvas.toBlob(good, "image/jpeg", quality));
  /* JPEG bytes, or an error that says why there are none. */
  const small = async (file) => {
    let picture;
    try { picture = await createImageBitmap(file); } catch { throw new Error("this browser cannot read that picture: take it as a JPEG"); }
    let best = null;
    for (const side of SIDES) for (const quality of QUALITY) {
      if (best && best.size <= ENOUGH) break;
      const scale = Math.min(1, side / Math.max(picture.width, picture.height)), canvas = document.createElement("canvas");
      canvas.width = Math.max(1, Math.round(picture.width * scale));
      canvas.height = Math.max(1, Math.round(picture.height * scale));
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#fff"; // what was clear becomes white, not black
      pen.fillRect(0, 0, canvas.width, canvas.height);
      pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
      best = await jpeg(canvas, quality);
      if (!best) throw new Error("this browser cannot make that picture small");
    }
    picture.close();
    return new Uint8Array(await best.arrayBuffer());
  };
  /* Bytes as base64, and as an address that a picture can be shown from: the site's policy lets no other in. */
  const base64 = (bytes) => { let text = ""; for (let start = 0; start < bytes.length; start += 32768) text += String.fromCharCode(...bytes.subarray(start, start + 32768)); return btoa(text); };
  window.almanacPhotos = { small, base64, address: (bytes) => `data:image/jpeg;base64,${base64(bytes)}` };
})();
