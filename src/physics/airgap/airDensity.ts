/**
 * Density and moisture of the air in the cabinet.
 *
 *   p = 101325 (1 - 0.0065 h/288.15)^5.25588       Pa, h metres, 0 to 11 km (US Standard Atmosphere 1976, ISO 2533)
 *   delta = (p/101.3 kPa) (293/(273 + t))          relative air density, t degC (IEC 60052)
 *   e = 6.1078 x 10^(7.5 t/(237.3 + t)) RH         hPa;  h = 216.7 e/(t + 273.15)  g/m3 (Magnus form)
 *   k = 1 + 0.002 (h/delta - 8.5)                  valid 1 to 13 g/m3 (IEC 60052)
 *
 * Indoors the temperature is the room's, whatever the altitude: only the pressure follows the hill.
 * Standing: defining constants of the atmosphere, and the IEC forms, from memory.
 */
import { exp, ln, powerOfTen } from "../../math/elementary";

const ICE_POINT_K = 273.15;

/** Static pressure of the standard atmosphere, pascal. */
export function standardPressurePa(altitudeM: number): number {
  return 101325 * exp(5.25588 * ln(1 - (0.0065 * altitudeM) / 288.15));
}

/** Density relative to 20 degC and 101.3 kPa. */
export function relativeAirDensity(pressurePa: number, airK: number): number {
  return (pressurePa / 101300) * (293 / (273 + (airK - ICE_POINT_K)));
}

/** Water in the air, grams per cubic metre, from relative humidity 0 to 1. */
export function absoluteHumidityGPerM3(airK: number, relativeHumidity: number): number {
  const t = airK - ICE_POINT_K;
  const hPa = 6.1078 * powerOfTen((7.5 * t) / (237.3 + t)) * relativeHumidity;
  return (216.7 * hPa) / airK;
}

/** Humidity correction k of breakdown voltage. */
export function humidityFactor(humidityGPerM3: number, relativeDensity: number): number {
  return 1 + 0.002 * (humidityGPerM3 / relativeDensity - 8.5);
}

/** True inside the 1 to 13 g/m3 for which the correction is printed. */
export function isHumidityInRange(humidityGPerM3: number): boolean {
  return humidityGPerM3 >= 1 && humidityGPerM3 <= 13;
}
