interface HazardText {
  readonly text: string;
  readonly precautions: readonly string[];
}

/**
 * Hazards of the trade, common practice. Flash points of 2-propanol, about 12 deg C neat and 20 to 24 deg C for half-and-half
 * with water, are from memory of safety data sheets: the one on the bottle counts.
 */
export const hazards = {
  acidMeetsIronRemover: {
    text: 'Acid and iron remover must never meet: together they give off hydrogen sulphide, which is poisonous and soon can no longer be smelt.',
    precautions: [
      'Rinse one off completely, floor and drain too, before the other is opened.',
      'Separate sprayers, brushes and buckets, marked.',
      'On a smell of rotten eggs leave, get everyone out, air the bay; do not go back for anything.',
    ],
  },
  fluorideAcid: {
    text: 'Wheel and mineral acids may hold fluorides, which burn through skin without pain at first.',
    precautions: [
      'Read the label; where it names a fluoride or bifluoride, have calcium gluconate gel at hand before opening it.',
      'Gloves, goggles, apron. Keep it off bare aluminium and glass.',
      'On contact rinse, apply the gel and get medical help at once, pain or not.',
    ],
  },
  chemicalSplash: {
    text: 'Removers, degreasers and foams irritate or burn eyes and skin.',
    precautions: ['Gloves and goggles; spray away from the face and with the wind.', 'Eye wash within reach.'],
  },
  ignitableSolvent: {
    text: 'Wipe and coating solvents ignite: 2-propanol flashes at about 12 °C neat and 20 to 24 °C at half strength.',
    precautions: [
      'No lamps, heaters, sparks or chargers in the same air until it has flashed off and the air is changed.',
      'Small amounts, lids shut, used cloths into a lidded metal bin.',
      'Extinguisher at hand.',
    ],
  },
  solventVapour: {
    text: 'Solvent vapour makes people dizzy and dull.',
    precautions: ['Extraction or open doors.', 'Leave the room at headache or dizziness, and say so.'],
  },
  coatingVapour: {
    text: 'Coatings cure on skin and their vapour can irritate and sensitise; some release isocyanate or methanol.',
    precautions: [
      'Nitrile gloves, changed when wetted; goggles; the respirator the data sheet names, with filters in date.',
      'Extraction running; nobody lingers in the room while it cures.',
      'Whoever is sensitised stays out.',
    ],
  },
  hotLamps: {
    text: 'Infra-red lamps burn skin, blister paint and light solvent.',
    precautions: [
      'Never alone: somebody watches, and measures the panel.',
      'Keep the distance the lamp and the coating ask for; off plastic trim and sensors.',
      'Solvent and wiped cloths out of the room first.',
    ],
  },
  rotatingMachine: {
    text: 'Polishing machines grab hair, cords and cloth, and throw loose parts.',
    precautions: [
      'Hair and strings tied, cord over the shoulder, eye protection.',
      'Start and stop on the panel; mask edges and badges.',
      'Unplug or take out the battery before changing a pad.',
    ],
  },
  cordsOnWetFloor: {
    text: 'Mains leads and water.',
    precautions: ['Residual-current protection, tested.', 'No joints on the floor; dry it before plugging in.'],
  },
  polishingDust: {
    text: 'Polishing and sanding dust is bad for lungs and eyes.',
    precautions: ['Dust mask of the class the data sheet names; extraction where there is one.'],
  },
  pressureJet: {
    text: 'A pressure jet cuts skin and drives water under it.',
    precautions: [
      'Never at people, hands or feet; both hands on the lance.',
      'An injection wound is an emergency however small.',
    ],
  },
  compressedAir: {
    text: 'Compressed air throws grit and can enter the body.',
    precautions: ['Goggles; never on skin or clothes; nozzle pressure limited.'],
  },
  raisedVehicle: {
    text: 'A raised car can fall.',
    precautions: [
      'Lift only at the jacking points, lift or stands within their load and inspection date, trained people only.',
      'Try it for steadiness at hand height. Tighten wheels to the stated torque and record it.',
    ],
  },
  lifting: {
    text: 'Wheels are heavy.',
    precautions: ['Roll, do not carry; two people or a wheel trolley.'],
  },
  movingVehicle: {
    text: 'A car moved indoors can crush.',
    precautions: [
      'Permitted drivers only, walking pace, one person guiding, nobody between car and wall.',
      'Engine off indoors.',
    ],
  },
  slips: {
    text: 'Wet and soapy floors.',
    precautions: ['Non-slip boots; hoses off the walkway; squeegee as you go.'],
  },
  noise: {
    text: 'Machines and air lines are loud for hours.',
    precautions: ['Hearing protection.'],
  },
  blades: {
    text: 'Film is cut with open blades.',
    precautions: ['Cut away from yourself, snapped blades into the sharps box.'],
  },
  hotAir: {
    text: 'Heat guns burn and ignite.',
    precautions: ['Not where solvent is open; cool before setting down.'],
  },
  electricalCabin: {
    text: 'Seats hold airbags and wiring.',
    precautions: ['Do not soak connectors; do not pull plugs under a seat.'],
  },
  brightLamps: {
    text: 'Inspection lamps are bright enough to hurt eyes and get hot.',
    precautions: ['Not into eyes; stands steady, leads out of the way.'],
  },
} as const satisfies Record<string, HazardText>;

export type HazardName = keyof typeof hazards;
