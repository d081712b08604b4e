export function findBrowser(note: (text: string) => void): Promise<string>
