declare module 'psychrolib' {
  /** ASHRAE Handbook, Fundamentals, chapter 1. Temperatures in deg C and pressures in Pa once set to SI; humidity 0 to 1. */
  const psychrolib: {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    GetTDewPointFromRelHum(tempC: number, relativeHumidity: number): number;
    GetSatVapPres(tempC: number): number;
  };
  export default psychrolib;
}
