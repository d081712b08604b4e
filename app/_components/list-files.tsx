import { getTranslations } from 'next-intl/server'
import type { ExportName } from '@/lib/data/exports/lists'

type ListFilesProps = Readonly<{
  lists: readonly (ExportName | 'cylinders')[]
  /** What the page itself was asked for: its site, its filter. Without a site: all the viewer's. */
  query?: Readonly<Record<string, string>>
}>

/** The lists of a page as files, each in both forms. */
export async function ListFiles({ lists, query = {} }: ListFilesProps) {
  const t = await getTranslations('listFiles')
  const hrefOf = (list: ListFilesProps['lists'][number], form: 'csv' | 'xlsx') => {
    const path = list === 'cylinders' ? '/api/cylinders/export' : `/api/export/${list}`
    return `${path}?${new URLSearchParams({ ...query, as: form })}`
  }
  return (
    <p className="flex flex-wrap gap-x-4 px-4 pt-3 type-note desk:px-8">
      {lists.flatMap((list) =>
        (['csv', 'xlsx'] as const).map((form) => (
          <a
            key={`${list} ${form}`}
            href={hrefOf(list, form)}
            className="inline-flex min-h-12 items-center text-cobalt underline underline-offset-4 desk:min-h-8"
          >
            {t(form, { list: t(`lists.${list}`) })}
          </a>
        )),
      )}
    </p>
  )
}
