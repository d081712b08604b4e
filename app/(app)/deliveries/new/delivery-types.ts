export type OrderLine = Readonly<{ sizeId: string; quantity: number }>
export type SizeOption = Readonly<{ id: string; words: string }>
