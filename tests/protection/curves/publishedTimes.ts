/**
 * Operate and reset times of standard curves at a time multiplier of 1, seconds.
 *
 * Source: constants of IEC 60255-151:2009, Annex A, and IEEE C37.112 (its MI, VI, EI are D, E, F), evaluated with another
 * program; numerical-relay manuals print the times of D, E, F to three decimals. Thermal: closed forms of IEC 60255-149
 * (from memory) with another program, time constant 10 s.
 */
export const MULTIPLES = [1.1, 1.5, 2, 3, 4, 5, 6, 10, 20] as const;

export const OPERATE_S = {
  iecA: [73.3744, 17.1942, 10.029, 6.3019, 4.9798, 4.2797, 3.8372, 2.9706, 2.2674],
  iecB: [135, 27, 13.5, 6.75, 4.5, 3.375, 2.7, 1.5, 0.7105],
  iecC: [380.9524, 64, 26.6667, 10, 5.3333, 3.3333, 2.2857, 0.8081, 0.2005],
  ieeeD: [27.1053, 6.439, 3.8032, 2.4322, 1.9458, 1.6883, 1.5255, 1.2068, 0.9481],
  ieeeE: [93.872, 16.179, 7.0277, 2.9423, 1.7983, 1.3081, 1.0513, 0.6891, 0.5401],
  ieeeF: [134.4074, 22.6817, 9.5217, 3.6467, 2.0017, 1.2967, 0.9274, 0.4065, 0.1924],
} as const;

/** From full travel, at these shares of the pickup. */
export const RESET_SHARES = [0, 0.5, 0.8, 0.9] as const;

export const RESET_S = {
  ieeeD: [4.85, 6.4667, 13.4722, 25.5263],
  ieeeE: [21.6, 28.8, 60, 113.684],
  ieeeF: [29.1, 38.8, 80.8333, 153.158],
} as const;

/** Current over operating current, time from cold, time after a prior heat of 0.64. */
export const THERMAL_10_S = [
  [1.1, 17.5127, 9.9853],
  [1.2, 11.8562, 5.9784],
  [1.5, 5.8779, 2.5309],
  [2, 2.8768, 1.1333],
  [3, 1.1778, 0.4402],
  [6, 0.2817, 0.1023],
] as const;
