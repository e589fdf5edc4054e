// A photo from a camera or a file, made fit to be kept and sent: upright, at most 2048 px, without what a camera
// writes beside it: the place stays on the phone. Only a HEIC that the browser cannot read goes whole; the server takes
// it out of that.
import { device, person, tell } from "./outbox.js";
import { keepPhoto } from "./photos.js";
import { HEAD, pictureOf } from "./picture.js";
import { sha256 } from "./sha256.js";
import { freshId } from "./store.js";
import { send } from "./sync.js";

const LONGEST = 2048; // px
const QUALITY = 0.8; // about 300 kB
const LARGEST = 50e6; // bytes of a file
const LARGEST_AS_IT_IS = 16e6; // bytes that the server takes
const PIXELS = 120e6; // what a phone's memory can decode

// Keep a photo of an opening; `about` says {site, opening, shot, fact, place}. Answers with the record, which is on the
// disk by then. Rejects with an Error whose message is one of: empty, too-large, not-a-picture, too-many-pixels,
// broken, nobody, full (then `error.bytes` and `error.media` hold the picture, so that it can be saved elsewhere).
export async function photographed(file, about) {
  const picture = await lookedAt(file);
  const { bytes, media } = await shrunk(file, picture);
  const taken = (picture.taken ?? new Date(Math.min(file.lastModified || Date.now(), Date.now()))).toISOString();
  return keep(bytes, media, { ...about, taken });
}

// Keep a picture that was made on this device, as it is.
export async function keep(bytes, media, about) {
  const who = await person();
  if (!who) throw new Error("nobody");
  const now = new Date().toISOString();
  const record = {
    taken: now,
    device: device(),
    ...about,
    id: freshId(),
    person: who.id,
    author: who.name,
    at: now,
    size: bytes.byteLength,
    digest: await sha256(bytes),
    media,
    state: "waiting",
  };
  try {
    await keepPhoto(record, bytes);
  } catch (error) {
    if (error.name !== "QuotaExceededError") throw error;
    throw Object.assign(new Error("full"), { bytes, media });
  }
  tell();
  send();
  return record;
}

async function lookedAt(file) {
  if (!file.size) throw new Error("empty");
  if (file.size > LARGEST) throw new Error("too-large");
  const picture = pictureOf(new Uint8Array(await file.slice(0, HEAD).arrayBuffer()));
  if (!picture) throw new Error("not-a-picture");
  if (picture.width * picture.height > PIXELS) throw new Error("too-many-pixels");
  return picture;
}

// What this browser cannot decode – HEIC, in most of them – is sent as it is: the server can.
async function shrunk(file, { media }) {
  let bitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    if (media !== "image/heic") throw new Error("broken");
    if (file.size > LARGEST_AS_IT_IS) throw new Error("too-large");
    return { bytes: await file.arrayBuffer(), media };
  }
  const scale = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
  const canvas = canvasOf(Math.round(bitmap.width * scale) || 1, Math.round(bitmap.height * scale) || 1);
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#fff"; // what a PNG leaves clear
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.imageSmoothingQuality = "high";
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return { bytes: jpegOf(canvas), media: "image/jpeg" };
}

export function canvasOf(width, height) {
  return Object.assign(document.createElement("canvas"), { width, height });
}

// At once: toBlob and convertToBlob wait until the browser has nothing else to do, seconds on a busy phone.
export function jpegOf(canvas) {
  const [head, text] = canvas.toDataURL("image/jpeg", QUALITY).split(",");
  if (!head.startsWith("data:image/jpeg") || !text) throw new Error("broken");
  return Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer;
}
