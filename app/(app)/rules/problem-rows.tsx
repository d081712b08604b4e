'use client'

import { useTranslations } from 'next-intl'
import { namedParams, type Say } from '@/app/_components/form/reason-words'
import type { LocalProblem } from '@/lib/rules/local'

/** What is still wrong with what was typed, said while it is typed. */
export function ProblemRows({ problems }: Readonly<{ problems: readonly LocalProblem[] }>) {
  const t = useTranslations()
  const say = t as unknown as Say
  if (problems.length === 0) return null
  return (
    <ul className="type-note text-heat">
      {problems.map(({ code, field, params }) => (
        <li key={`${code} ${field}`} className="py-0.5">
          {say(`rules.problems.${code}` as never, namedParams(say, params) as never)}
        </li>
      ))}
    </ul>
  )
}
