/** `W12x50` as it is read: W12×50. */
export const shownSection = (name: string) => name.replaceAll('x', '×')
