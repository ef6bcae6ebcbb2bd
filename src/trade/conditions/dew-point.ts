/**
 * Magnus coefficients over water of O. A. Alduchov and R. E. Eskridge, "Improved Magnus Form Approximation of
 * Saturation Vapor Pressure", J. Appl. Meteorol. 35 (1996): 6.1094 hPa, 17.625, 243.04 deg C.
 */
const MAGNUS_HPA = 6.1094;
const MAGNUS_A = 17.625;
const MAGNUS_B_C = 243.04;

/** Saturation vapour pressure over water, in hPa; within 0.4 % from -40 to 50 deg C. */
export function saturationPressureHPa(tempC: number): number {
  return MAGNUS_HPA * Math.exp((MAGNUS_A * tempC) / (MAGNUS_B_C + tempC));
}

/**
 * Temperature, in deg C, at which air of this temperature and humidity begins to wet a surface.
 *
 * @throws RangeError when the humidity is not above 0 and at most 100 %.
 */
export function dewPointC(airTempC: number, relativeHumidityPercent: number): number {
  if (!(relativeHumidityPercent > 0 && relativeHumidityPercent <= 100)) {
    throw new RangeError(`relativeHumidityPercent is ${relativeHumidityPercent}, must be above 0 and at most 100`);
  }
  const gamma = Math.log(relativeHumidityPercent / 100) + (MAGNUS_A * airTempC) / (MAGNUS_B_C + airTempC);
  return (MAGNUS_B_C * gamma) / (MAGNUS_A - gamma);
}
