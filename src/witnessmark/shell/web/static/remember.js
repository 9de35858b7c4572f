// What this device remembers: light, unit, person, and its own name. Cookies, so that the first paint is right already.

const YEAR = 31536000;

export function recall(name) {
  const found = document.cookie.split("; ").find((pair) => pair.startsWith(`${name}=`));
  return found ? decodeURIComponent(found.slice(name.length + 1)) : "";
}

export function keep(name, value) {
  document.cookie = `${name}=${encodeURIComponent(value)}; path=/; max-age=${value ? YEAR : 0}; samesite=strict`;
}

// 16 letters from chance; works on plain http too, where randomUUID is absent.
export function freshName(prefix) {
  const bytes = crypto.getRandomValues(new Uint8Array(10));
  return prefix + Array.from(bytes, (byte) => (byte % 32).toString(32)).join("");
}

export function device() {
  const known = recall("device");
  if (known) return known;
  const fresh = freshName("d-");
  keep("device", fresh);
  return fresh;
}
