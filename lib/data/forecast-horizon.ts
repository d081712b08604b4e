/** How far ahead a site is looked at, in days from today. */
export const HORIZON_DAYS = 30
