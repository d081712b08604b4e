import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ActPage, type ActScene, readScene } from '../act-page'
import { HandOverForm } from './hand-over-form'

type HandOverPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.handOver'))('title') }
}

const KIND = { operator: 'torch_operator', fire_watch: 'fire_watch' } as const

export default async function HandOverPage({ params }: HandOverPageProps) {
  const scene = await readScene((await params).permitId)
  const t = await getTranslations('permit.handOver')
  const { head, can, people } = scene.view
  const roles =
    head.state === 'open'
      ? (['fire_watch', 'operator'] as const)
      : head.state === 'held' || head.state === 'watch'
        ? (['fire_watch'] as const)
        : []
  return (
    <ActPage scene={scene} title={t('title')}>
      {roles.length === 0 ? <p>{t('notRunning')}</p> : null}
      {roles.length > 0 && !can.sign ? <p>{t('notYours')}</p> : null}
      <div className="grid gap-8">
        {can.sign
          ? roles.map((role) => (
              <section key={role}>
                <h2 className="type-section mb-2">
                  {t(`now.${role}`, {
                    name: role === 'operator' ? people.operator : people.watcher,
                  })}
                </h2>
                <HandOverForm
                  permitId={head.id}
                  version={head.version}
                  contentHash={head.contentHash}
                  role={role}
                  people={choices(scene, role)}
                />
              </section>
            ))
          : null}
      </div>
    </ActPage>
  )
}

function choices({ hands, view }: ActScene, role: 'operator' | 'fire_watch') {
  const on = [view.people.operator, view.people.watcher]
  return hands
    .filter((hand) => hand.qualifiedAs.includes(KIND[role]) && !on.includes(hand.name))
    .map(({ id, name }) => ({ value: id, label: name }))
}
