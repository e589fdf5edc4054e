// Why a photo was not kept, in the words of the page; where this device is full, the photo itself as a file to save.

export function unkept(error, place) {
  const words = document.querySelector("#photo-words");
  place.textContent = words.getAttribute(`data-${error.message}`) ?? words.dataset.failed;
  place.hidden = false;
  if (!error.bytes) return;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([error.bytes], { type: error.media }));
  link.download = `${new Date().toISOString().slice(0, 19).replace(/\D/g, "-")}.${error.media.split("/")[1].replace("jpeg", "jpg")}`;
  link.className = "button";
  link.textContent = words.dataset.file;
  place.append(" ", link);
}
