import { execFileSync, spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'

const ROOT = path.resolve(import.meta.dirname, '../../..')
const BIOME = path.join(ROOT, 'node_modules/@biomejs/biome/bin/biome')

interface Forbidden {
  file: string
  source: string
  rule: string
}

const importing = (name: string) => `import { thing } from '${name}'\n\nexport const kept = thing\n`
const arrow = (file: string, name: string): Forbidden => ({
  file,
  source: importing(name),
  rule: 'lint/style/noRestrictedImports',
})

const FORBIDDEN: readonly Forbidden[] = [
  arrow('lib/calc/a1.ts', '@/lib/rules/types'),
  arrow('lib/calc/a2.ts', '../rules/types'),
  arrow('lib/calc/a3.ts', 'zod'),
  arrow('lib/calc/a4.ts', 'node:fs'),
  arrow('lib/calc/tables/a5.ts', '../../data/client'),
  arrow('lib/calc/a6.ts', '@/app/page'),
  arrow('lib/rules/b1.ts', 'react'),
  arrow('lib/rules/b2.ts', '@/lib/data/jobs'),
  arrow('lib/rules/b3.ts', '../permit/types'),
  arrow('lib/rules/b4.ts', '@/lib/permit/types'),
  arrow('lib/permit/c1.ts', 'next/headers'),
  arrow('lib/permit/c2.ts', '@/lib/data/permits'),
  arrow('lib/permit/c3.ts', '../calc/units'),
  arrow('lib/permit/c4.ts', '@prisma/client'),
  arrow('lib/access/d1.ts', '@/lib/data/auth'),
  arrow('lib/access/d2.ts', '../auth/viewer'),
  arrow('lib/schemas/e1.ts', '@/lib/data/jobs'),
  arrow('lib/schemas/e2.ts', 'next/navigation'),
  arrow('lib/format/f1.ts', '@/app/_components/bar/scale'),
  arrow('lib/format/f2.ts', '@/lib/data/client'),
  arrow('lib/auth/f3.ts', '@prisma/adapter-pg'),
  arrow('lib/auth/f4.ts', '@/seed/ids'),
  arrow('lib/data/g1.ts', '@/app/layout'),
  arrow('lib/data/g2.ts', '@/test/setup/database'),
  arrow('lib/data/g3.ts', 'next/headers'),
  arrow('lib/data/g4.ts', '@/lib/auth/viewer'),
  arrow('app/h1.tsx', '@prisma/client'),
  arrow('app/h2.tsx', '@/lib/data/client'),
  arrow('app/h3.tsx', '@/lib/data/generated/client'),
  arrow('app/h4.tsx', '@/test/setup/database'),
  arrow('app/h5.tsx', 'next-auth'),
  {
    file: 'lib/format/i1.ts',
    source: 'export const zone = process.env.TZ\n',
    rule: 'lint/style/noProcessEnv',
  },
  {
    file: 'lib/format/j1.ts',
    source: `import { b } from './j2'\n\nexport const a = () => b\n`,
    rule: 'lint/suspicious/noImportCycles',
  },
  {
    file: 'lib/format/j2.ts',
    source: `import { a } from './j1'\n\nexport const b = () => a\n`,
    rule: 'lint/suspicious/noImportCycles',
  },
  {
    file: 'lib/format/k1.ts',
    source: 'export const anything = (value: any) => value\n',
    rule: 'lint/suspicious/noExplicitAny',
  },
  {
    file: 'lib/format/CamelCase.ts',
    source: 'export const a = 1\n',
    rule: 'lint/style/useFilenamingConvention',
  },
]

const ALLOWED: readonly Pick<Forbidden, 'file' | 'source'>[] = [
  { file: 'lib/calc/ok1.ts', source: importing('./ok2') },
  { file: 'lib/calc/ok2.ts', source: 'export const thing = 1\n' },
  { file: 'lib/calc/tables/ok3.ts', source: importing('../ok2') },
  { file: 'lib/rules/ok4.ts', source: importing('./ok5') },
  { file: 'lib/rules/ok5.ts', source: 'export const thing = 1\n' },
  { file: 'lib/permit/ok6.ts', source: importing('@/lib/rules/ok5') },
  { file: 'lib/permit/ok7.ts', source: importing('../rules/ok5') },
  { file: 'lib/data/ok8.ts', source: importing('./client') },
  { file: 'lib/data/ok9.ts', source: importing('@/lib/permit/ok6') },
  { file: 'lib/auth/ok10.ts', source: importing('@/lib/data/auth') },
  { file: 'app/ok11.tsx', source: importing('@/lib/data/jobs') },
  { file: 'lib/env.ts', source: 'export const zone = process.env.TZ\n' },
]

interface Report {
  diagnostics: { category: string; location: { path: string | { file: string } } }[]
}

const found = new Map<string, Set<string>>()
let scratch = ''

function lintScratch(): Report {
  const args = ['lint', '--reporter=json', '--max-diagnostics=none', '.']
  const { stdout } = spawnSync(process.execPath, [BIOME, ...args], {
    cwd: scratch,
    encoding: 'utf8',
  })
  return JSON.parse(stdout) as Report
}

describe('the import arrows', () => {
  beforeAll(() => {
    scratch = mkdtempSync(path.join(tmpdir(), 'kerfwatch-lint-'))
    for (const name of ['biome.json', 'tsconfig.json'])
      cpSync(path.join(ROOT, name), path.join(scratch, name))
    symlinkSync(path.join(ROOT, 'node_modules'), path.join(scratch, 'node_modules'))
    for (const { file, source } of [...FORBIDDEN, ...ALLOWED]) {
      mkdirSync(path.dirname(path.join(scratch, file)), { recursive: true })
      writeFileSync(path.join(scratch, file), source)
    }
    for (const { category, location } of lintScratch().diagnostics) {
      const at = typeof location.path === 'string' ? location.path : location.path.file
      const file = path.relative(scratch, path.resolve(scratch, at))
      found.set(file, (found.get(file) ?? new Set()).add(category))
    }
  })

  afterAll(() => rmSync(scratch, { recursive: true, force: true }))

  test.each(FORBIDDEN)('$file may not say $source', ({ file, rule }) => {
    expect([...(found.get(file) ?? [])]).toContain(rule)
  })

  test.each(ALLOWED)('$file may say $source', ({ file }) => {
    expect([...(found.get(file) ?? [])]).toEqual([])
  })

  test('the linter ends with a failure when an arrow is broken', () => {
    const broken = () =>
      execFileSync(process.execPath, [BIOME, 'lint', 'lib/calc/a1.ts'], {
        cwd: scratch,
        stdio: 'pipe',
      })
    expect(broken).toThrow()
  })
})
