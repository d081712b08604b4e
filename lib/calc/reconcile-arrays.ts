/** The element at a place that the caller knows to be there. */
export function at(array: ArrayLike<number>, index: number): number {
  return array[index] as number
}

/** A column written out place by place: many times as fast as `Float64Array.from` with a function. */
export function floats(length: number, of: (place: number) => number): Float64Array {
  const column = new Float64Array(length)
  for (let i = 0; i < length; i += 1) column[i] = of(i)
  return column
}

/** The same of whole numbers. */
export function integers(length: number, of: (place: number) => number): Int32Array {
  const column = new Int32Array(length)
  for (let i = 0; i < length; i += 1) column[i] = of(i)
  return column
}

/** Sum of products, in the order of the places: the same numbers give the same bits. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i += 1) sum += (a[i] as number) * (b[i] as number)
  return sum
}
