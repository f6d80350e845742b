import { describe, expect, it } from 'vitest';
import { make_uuid_v7 } from './uuid7';

describe('make_uuid_v7', () => {
  // The example of RFC 9562, appendix A.6: unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b
  // 0x18C4DC0C0C07398F, which gives 017F22E2-79B0-7CC3-98C4-DC0C0C07398F.
  it('makes the example of the standard', () => {
    const random = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f]);
    expect(make_uuid_v7(0x017f22e279b0, random)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f');
  });

  it('never makes one twice', () => {
    expect(new Set(Array.from({ length: 1000 }, () => make_uuid_v7(5))).size).toBe(1000);
  });
});
