/** Later than any minute of any plan. Small enough that sums of two stay within 32 bits. */
export const NEVER = 0x3fff_ffff;
