declare module "psychrolib" {
  interface Psychrometrics {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    /** Relative humidity as a fraction. */
    GetTWetBulbFromRelHum(dryBulbC: number, relativeHumidity: number, pressurePa: number): number;
    GetStandardAtmPressure(altitudeM: number): number;
  }
  const psychrometrics: Psychrometrics;
  export default psychrometrics;
}
