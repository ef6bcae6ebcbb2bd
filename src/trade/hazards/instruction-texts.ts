import type { WorkKind } from '../model/recipe.ts';
import type { Instruction } from './instructions.ts';

const step = (text: string): Instruction => ({ text });

const timed = (text: string, label: string, fromSeconds: number, toSeconds: number): Instruction => ({
  text,
  clock: { label, fromSeconds, toSeconds },
});

/** What the floor is told, in a few words. Common practice; the product's own sheet outranks it. */
export const instructionTexts: Record<WorkKind, readonly Instruction[]> = {
  intake: [
    step('Walk round with the customer; note damage and valuables.'),
    step('Photograph all sides, wheels, dash and mileage.'),
    step('Agree how to reach the customer after the inspection. Take the key.'),
  ],
  photographs: [step('Same angles as at intake, same light.'), step('Name the pictures by panel.')],
  wheelsOff: [
    step('Find the locking key; mark each wheel with its corner.'),
    step('Raise at the jacking points and try for steadiness.'),
    step('Take the wheels off; lay them face up on mats.'),
  ],
  wheels: [
    step('Let brakes cool. Rinse loose dirt out of wheel, arch and tyre.'),
    timed('Spray iron remover; brush barrel and face; do not let it dry.', 'dwell', 120, 300),
    step('Rinse until the water runs clear, floor too.'),
    timed('Only where minerals are left: acid on the wet, cool wheel; rinse with plenty of water.', 'dwell', 30, 90),
    step('Degrease the tyre; rinse everything.'),
  ],
  mineralRemover: [
    step('Panel cool and out of the sun. No iron remover anywhere on the car or floor.'),
    timed('Dab on badges, shut lines and spots; keep it wet.', 'dwell', 60, 120),
    step('Flood with water, then rinse with alkaline soap within five minutes.'),
  ],
  ironTarRemover: [
    step('Acid rinsed off, floor too.'),
    timed('Spray from the bottom up, panel by panel; keep it wet.', 'dwell', 180, 300),
    step('Rub off tar with a cloth; rinse within ten minutes of the first spray.'),
  ],
  foamWash: [timed('Foam from the bottom up.', 'dwell', 180, 300), step('Rinse from the top down before it dries.')],
  contactWash: [
    step('Two buckets with grit guards; mitt from the top down.'),
    step('Rinse the mitt after each panel; sills and bumpers last.'),
    step('Rinse the car.'),
  ],
  clay: [
    step('Lubricate; glide without pressure; turn the clay when it shows dirt.'),
    step('Drop it on the floor: throw it away.'),
    step('Rinse.'),
  ],
  blowDry: [step('Blow out seams, mirrors, badges, lamps.'), step('Towel what is left; no wiping of dry paint.')],
  dryOut: [step('Leave standing until no seam weeps.'), step('Check mirrors, badges and number plate before release.')],
  cleanPaintInspection: [
    step('Lamp over every panel: grade the defects.'),
    step('Measure film at five points a panel; record the thinnest. Plastic: note, do not guess.'),
    step('Revise scope, price and time; send them to the customer.'),
  ],
  customerAnswer: [step('Wait for the answer or its deadline; then the default scope runs.')],
  mask: [step('Tape trim, edges, badges and seams.'), step('Cover glass and wheels that dust may reach.')],
  testSpot: [
    step('Half a metre square on the worst flat panel.'),
    step('Mildest combination first; step up until the defects go.'),
    step('Wipe with solvent, look under the lamp, record combination and passes.'),
  ],
  compound: [
    step('Measure the panel before and after the first set.'),
    step('Half-metre squares, steady arm, machine weight; pad cleaned after every square.'),
    step('Panel below about 50 °C: a hand must be able to rest on it.'),
  ],
  filmCheck: [step('Measure the same points again; record.'), step('Below the floor: stop, fetch the lead.')],
  finishPolish: [
    step('Fine pad and polish, machine weight, slow last set.'),
    step('Panel below about 50 °C.'),
    step('Look under two lights.'),
  ],
  dustRemoval: [
    step('Blow out seams and rubbers from the top down.'),
    step('Tack off panels; sweep and let the dust settle.'),
  ],
  stripWash: [step('Degreasing soap, no wax, all seams.'), step('Rinse, blow dry, leave to dry out.')],
  filmLaying: [
    step('Wash hands; damp the floor.'),
    step('Wet panel and film; position; squeegee from the middle.'),
    step('Trim, tuck edges, warm corners; look for specks.'),
  ],
  interior: [step('Vacuum, top down.'), step('Clean plastics and leather; extract cloth; dry.'), step('Glass last.')],
  panelWipe: [
    step('Lamps and heaters off; extraction on.'),
    timed('Two cloths: wet, then dry, panel by panel.', 'wet on the panel', 10, 30),
    step('Change cloths often. No bare hands from now on.'),
  ],
  solventFlash: [step('Leave until no smell is left; door shut, extraction on.')],
  coatLayer: [
    step('Take fresh air and panel readings; outside the limits: stop.'),
    timed('Half-metre square, crosswise; level when it rainbows.', 'flash', 30, 180),
    step('Second towel; look from both sides before the next square.'),
    step('Hard high spots: fetch the lead; do not rub.'),
  ],
  layerWait: [step('Doors shut, nobody inside.')],
  abrade: [step('Scuff evenly with the pad the data sheet names.'), step('Blow off, wipe again, then recoat.')],
  cure: [step('Still, dry, dust-free. Nothing touches the paint.')],
  lampCure: [
    step('Touch-dry first. No solvent in the room.'),
    timed('Set distance; measure the panel in the first two minutes and every five.', 'first look', 60, 120),
    step('Move area by area; record.'),
  ],
  glassCoat: [step('Polish and wipe the glass.'), timed('Apply crosswise; level.', 'flash', 60, 300)],
  wheelCoat: [step('Dry, cold, wiped.'), timed('Face, then barrel; level.', 'flash', 60, 180)],
  trimCoat: [step('Degrease; tape the paint.'), timed('Work in; wipe even.', 'flash', 60, 300)],
  wheelsOn: [
    step('Each wheel to its corner; bolts by hand first.'),
    step('Tighten crosswise to torque, on the ground; record.'),
  ],
  unmask: [step('Pull tape back flat on itself; clean edges.')],
  finalInspection: [
    step('Two lights and daylight, every panel; glass, trim, seams, wheels, cabin.'),
    step('Pass, or say what to do again and how long.'),
  ],
  rework: [step('Only what the inspection named; then inspect again.')],
  handover: [
    step('Show the car in good light.'),
    step('Give the aftercare times in writing: first wash, rain, sun.'),
    step('Return keys and valuables.'),
  ],
  maintenanceWash: [
    step('Foam, contact wash, rinse.'),
    step('Blow dry; look for water that lies flat.'),
    step('Top up where the sheet says so.'),
  ],
  afterCheck: [step('Look for high spots, water marks, edges.'), step('Note and photograph; book what is needed.')],
  move: [
    step('Route clear, guide in place.'),
    step('Permitted driver; shoes clean, seat covered.'),
    step('Hang the key up again.'),
  ],
};
