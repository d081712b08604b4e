/** Stored with every snapshot; raise it when any number that calc returns can change. */
export const CALC_VERSION = '1.1.0'
