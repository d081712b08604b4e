import Link from 'next/link'

export type FilterWord = Readonly<{ href: string; label: string; isCurrent: boolean }>

/** One choice of a list, as words; the chosen one stands on cobalt. */
export function FilterWords({ words }: Readonly<{ words: readonly FilterWord[] }>) {
  return (
    <span className="flex flex-wrap gap-x-5">
      {words.map(({ href, label, isCurrent }) => (
        <Link
          key={href}
          href={href}
          className="block min-h-12 content-center border-b-4 border-transparent whitespace-nowrap text-ink aria-[current]:border-cobalt aria-[current]:font-[650] desk:min-h-8"
          aria-current={isCurrent ? 'page' : undefined}
        >
          {label}
        </Link>
      ))}
    </span>
  )
}
