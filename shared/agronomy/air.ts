/**
 * Moist air after ASHRAE Handbook Fundamentals (2017), chapter 1; SI. Temperatures in degrees Celsius, valid from
 * -100 to 200 for the vapour pressure, far beyond any spraying weather. Below freezing both the saturation and the
 * wet bulb are over ice, as there.
 */

/** The vapour pressure's lower end; no air on the ground has a dew point below it. */
const coldestC = -100;

/** Pressure of the standard atmosphere at an altitude, equation 3 (valid -5 000 to 11 000 m). */
export function pressurePa(altitudeM: number): number {
  return 101_325 * (1 - 2.25577e-5 * altitudeM) ** 5.2559;
}

/** Saturation vapour pressure over ice (equation 5) below the triple point of water, over water (6) above it. */
export function saturationVapourPressurePa(temperatureC: number): number {
  const t = temperatureC + 273.15;
  const triplePointC = 0.01;
  return temperatureC <= triplePointC
    ? Math.exp(
        -5.6745359e3 / t +
          6.3925247 -
          9.677843e-3 * t +
          6.2215701e-7 * t ** 2 +
          2.0747825e-9 * t ** 3 -
          9.484024e-13 * t ** 4 +
          4.1635019 * Math.log(t),
      )
    : Math.exp(
        -5.8002206e3 / t +
          1.3914993 -
          4.8640239e-2 * t +
          4.1764768e-5 * t ** 2 -
          1.4452093e-8 * t ** 3 +
          6.5459673 * Math.log(t),
      );
}

/** kg of vapour per kg of dry air, equation 20. */
function humidityRatio(vapourPressurePa: number, airPressurePa: number): number {
  return (0.621945 * vapourPressurePa) / (airPressurePa - vapourPressurePa);
}

/** Humidity ratio of air whose wet bulb is known: equation 33 above freezing, 35 below. */
function humidityRatioOfWetBulb(temperatureC: number, wetBulbC: number, airPressurePa: number): number {
  const saturated = humidityRatio(saturationVapourPressurePa(wetBulbC), airPressurePa);
  const depressionC = temperatureC - wetBulbC;
  return wetBulbC >= 0
    ? ((2501 - 2.326 * wetBulbC) * saturated - 1.006 * depressionC) / (2501 + 1.86 * temperatureC - 4.186 * wetBulbC)
    : ((2830 - 0.24 * wetBulbC) * saturated - 1.006 * depressionC) / (2830 + 1.86 * temperatureC - 2.1 * wetBulbC);
}

/**
 * Thermodynamic wet bulb, which a well aspirated psychrometer shows; it lies between the dew point and the temperature.
 * Just below freezing a wet and an iced bulb may both satisfy the equations: halving from this bracket picks one, the
 * same on every run.
 */
export function wetBulbC(temperatureC: number, humidityPct: number, airPressurePa: number): number {
  const vapourPressurePa = (humidityPct / 100) * saturationVapourPressurePa(temperatureC);
  const wanted = humidityRatio(vapourPressurePa, airPressurePa);
  const dewPointC = whereReached(coldestC, temperatureC, (c) => saturationVapourPressurePa(c) > vapourPressurePa);
  return whereReached(dewPointC, temperatureC, (c) => humidityRatioOfWetBulb(temperatureC, c, airPressurePa) > wanted);
}

/** The temperature from which the condition holds, by halving. */
function whereReached(lowC: number, highC: number, holdsAt: (temperatureC: number) => boolean): number {
  let low = lowC;
  let high = highC;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (holdsAt(middle)) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

/** Delta T: how far the wet bulb lies under the temperature; how fast small droplets dry up. */
export function deltaTC(temperatureC: number, humidityPct: number, airPressurePa: number): number {
  return temperatureC - wetBulbC(temperatureC, humidityPct, airPressurePa);
}
