/** What the program says when it ends. */

export const DONE = 0;
/** No convergence, a requirement that is not met, or a fault of the program. */
export const FAILED = 1;
/** Bad input. */
export const REFUSED = 2;
