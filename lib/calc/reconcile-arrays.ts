/** The element at a place that the caller knows to be there. */
export function at(array: ArrayLike<number>, index: number): number {
  return array[index] as number
}

/** Sum of products, in the order of the places: the same numbers give the same bits. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i += 1) sum += (a[i] as number) * (b[i] as number)
  return sum
}
