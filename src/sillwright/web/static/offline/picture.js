// What the first bytes of a file say of a picture: its kind, its size in pixels, and when a camera took it. Nothing is
// decoded: a picture too large for a phone's memory is known before the browser tries.

export const HEAD = 1 << 20; // bytes to look at; previews and profiles stand before the size in some files

// {media, width, height, taken}, null where it is no picture; sizes are 0 and the time null where nothing is said.
export function pictureOf(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const text = (at, length) => String.fromCharCode(...bytes.subarray(at, at + length));
  try {
    if (view.getUint16(0) === 0xffd8) return { media: "image/jpeg", ...jpeg(view, text) };
    if (text(1, 3) === "PNG") return { media: "image/png", width: view.getUint32(16), height: view.getUint32(20), taken: null };
    if (text(0, 4) === "RIFF" && text(8, 4) === "WEBP") return { media: "image/webp", ...webp(view, text), taken: null };
    if (text(4, 4) === "ftyp" && BRANDS.has(text(8, 4))) return { media: "image/heic", width: 0, height: 0, taken: null };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error; // it ends in the middle
  }
  return null;
}

const BRANDS = new Set(["heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs", "mif1", "msf1"]);

function webp(view, text) {
  const three = (at) => view.getUint16(at, true) | (view.getUint8(at + 2) << 16);
  const kind = text(12, 4);
  if (kind === "VP8X") return { width: three(24) + 1, height: three(27) + 1 };
  if (kind === "VP8 ") return { width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
  const packed = view.getUint32(21, true);
  return { width: (packed & 0x3fff) + 1, height: ((packed >> 14) & 0x3fff) + 1 };
}

// Segment by segment up to the one with the size, which stands after the one with the time.
function jpeg(view, text) {
  let taken = null;
  for (let at = 2; at + 9 < view.byteLength; ) {
    if (view.getUint8(at) !== 0xff) break;
    const kind = view.getUint8(at + 1);
    if (kind === 0xff) { at += 1; continue; } // filling
    if (kind >= 0xc0 && kind <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(kind)) {
      return { height: view.getUint16(at + 5), width: view.getUint16(at + 7), taken };
    }
    if (kind === 0xe1 && text(at + 4, 4) === "Exif") taken ??= timeIn(view, text, at + 10);
    at += 2 + view.getUint16(at + 2);
  }
  return { width: 0, height: 0, taken };
}

// EXIF: a list of tags, in it the address of a second list, in it the time at which the shutter opened.
function timeIn(view, text, start) {
  try {
    const little = text(start, 2) === "II";
    const find = (list, tag) => {
      for (let entry = 0; entry < view.getUint16(start + list, little); entry += 1) {
        const at = start + list + 2 + 12 * entry;
        if (view.getUint16(at, little) === tag) return view.getUint32(at + 8, little);
      }
      return 0;
    };
    const second = find(view.getUint32(start + 4, little), 0x8769);
    const place = second && find(second, 0x9003);
    return place ? timeOf(text(start + place, 19)) : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

// “2026:05:04 09:10:11”, by the clock of the camera; a clock that was never set says a year long ago.
function timeOf(words) {
  const [, ...parts] = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)$/.exec(words) ?? [];
  if (!parts.length) return null;
  const [year, month, day, hour, minute, second] = parts.map(Number);
  const at = new Date(year, month - 1, day, hour, minute, second);
  return year > 2000 && at.getTime() < Date.now() + 86_400_000 ? at : null;
}
