// Ids of entries: UUID version 7 (RFC 9562, section 5.7), made on the phone, so that an entry sent
// twice is stored once. `crypto.randomUUID` would need a secure context and makes version 4;
// `getRandomValues` works over plain http too.

export function make_uuid_v7(now_ms: number, random = crypto.getRandomValues(new Uint8Array(10))): string {
  const bytes = new Uint8Array(16);
  let time = Math.floor(now_ms);
  for (let i = 5; i >= 0; --i) {
    bytes[i] = time % 256;
    time = Math.floor(time / 256);
  }
  bytes.set(random, 6);
  bytes[6] = 0x70 | (bytes[6]! & 0x0f); // version 7
  bytes[8] = 0x80 | (bytes[8]! & 0x3f); // variant 10
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
