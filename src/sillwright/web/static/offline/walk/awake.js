// Keeps the screen awake as long as the page is seen. A lock ends when the page is hidden, and is taken anew.
let lock = null;

async function take() {
  if (lock && !lock.released) return true;
  try {
    lock = await navigator.wakeLock.request("screen");
    return true;
  } catch {
    return false; // no such thing here, or too little battery
  }
}

// Calls back with whether the screen stays awake.
export function stayAwake(tell) {
  const again = async () => { if (document.visibilityState === "visible") tell(await take()); };
  document.addEventListener("visibilitychange", again);
  return again();
}
