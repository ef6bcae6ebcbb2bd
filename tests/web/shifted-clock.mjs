/**
 * Loaded before the server (and by each page): the clock shows another hour, so that the demo shop is open and busy whenever the
 * tests run. Time still passes.
 */
const offsetMs = Number(globalThis.process?.env.PANELDAY_CLOCK_OFFSET_MS ?? globalThis.PANELDAY_CLOCK_OFFSET_MS ?? 0);
const RealDate = Date;

globalThis.Date = new Proxy(RealDate, {
  construct: (target, args, made) =>
    Reflect.construct(target, args.length === 0 ? [RealDate.now() + offsetMs] : args, made),
  get: (target, key) => (key === 'now' ? () => RealDate.now() + offsetMs : Reflect.get(target, key)),
});
