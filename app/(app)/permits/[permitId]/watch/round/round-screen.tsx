'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { useState } from 'react'
import { ButtonLink } from '@/app/_components/controls/button'
import { NotYetButton } from '@/app/_components/controls/not-yet-button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import { ClockAxis } from '@/app/_components/live/axis'
import { LiveBar } from '@/app/_components/live/live-bar'
import { usePrefs } from '@/app/_components/live/prefs'
import { NumberParts } from '@/app/_components/number-parts'
import { PhoneHead } from '@/app/_components/phone-head'
import { Scanner } from '@/app/_components/scan/scanner'
import type { WatchView } from '@/lib/data/watch/view'
import { formatClock } from '@/lib/format/clock'
import { durationParts } from '@/lib/format/duration'
import { leftToScan, postOfCode } from '@/lib/permit/post-codes'
import type { POST_ANSWERS } from '@/lib/schemas/watch'
import { PermitFields } from '../../permit-fields'
import { useWatch } from '../use-watch'
import { PostCode } from './post-code'
import { POST_FIELD, sendRound } from './send-round'

const LOOK_AGAIN_MS = 5 * 60_000

type PostAnswerValue = (typeof POST_ANSWERS)[number]
type Texts = Readonly<Record<string, string>>
const rowId = (post: string) => `post-${post}`

/** A round is places, not a button: every post is answered before it can be sent. */
export function RoundScreen({ view }: Readonly<{ view: WatchView }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  const watch = useWatch(view.facts, view.rounds)
  const { next, nowMs, opensMs } = watch
  const isCounted = next !== null && (opensMs === null || nowMs >= opensMs)
  const title = isCounted
    ? t('roundOf', { number: next.number, count: watch.slots.length })
    : t('lookAgain')
  const where = t('roundWhere', { area: view.head.areaName })
  return (
    <>
      <PhoneHead
        title={title}
        where={where}
        backHref={`/permits/${view.head.id}/watch`}
        aside={
          <>
            <p className="type-phone-title">{formatClock(nowMs, prefs)}</p>
            {next ? (
              <p className="type-small text-ink-2">
                {t('dueAt', { time: formatClock(next.dueMs, prefs) })}
              </p>
            ) : null}
          </>
        }
      />
      <DeskPageHead title={title} sentence={where} />
      <Left view={view} watch={watch} />
      {watch.progress.done && view.notClear.length === 0 ? (
        <div className="thumb border-t-0!">
          <ButtonLink kind="main" isWide href={`/permits/${view.head.id}/watch`}>
            {t('saidDone')}
          </ButtonLink>
        </div>
      ) : (
        <PostsForm key={next?.dueMs ?? 'again'} view={view} number={next?.number ?? null} />
      )}
    </>
  )
}

function Left({ view, watch }: Readonly<{ view: WatchView; watch: ReturnType<typeof useWatch> }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  const { anchorMs, endMs, nowMs, addedMs, slots, progress } = watch
  const rounds = slots.map((slot) => slot.dueMs)
  const bar = {
    start: anchorMs,
    end: endMs,
    rounds,
    ...(addedMs > 30_000 && !watch.isLost ? { addedFrom: endMs - addedMs } : {}),
  }
  return (
    <section className="border-b-2 border-ink px-4 pb-4 desk:mx-8 desk:max-w-[560px] desk:px-0">
      <div className="flex items-end justify-between pb-2">
        <p className="type-row-title">
          {t('untilWho', {
            time: formatClock(endMs, prefs),
            names: view.watchers.map((one) => one.name).join(', '),
          })}
        </p>
        <NumberParts parts={durationParts(Math.max(0, endMs - nowMs))} after={t('left')} />
      </div>
      <ClockAxis axis={{ kind: 'fixed', fromMs: anchorMs, toMs: Math.max(endMs, nowMs) + 60_000 }}>
        <div data-axis-width="">
          <LiveBar
            size="row"
            bar={
              progress.done
                ? { state: 'past-end', start: anchorMs, end: endMs }
                : { state: progress.pausedSince ? 'paused' : 'running', ...bar }
            }
          />
        </div>
      </ClockAxis>
    </section>
  )
}

function PostsForm({ view, number }: Readonly<{ view: WatchView; number: number | null }>) {
  const t = useTranslations('watch')
  const router = useRouter()
  const [answers, setAnswers] = useState<Texts>({})
  const [codes, setCodes] = useState<Texts>({})
  const [whys, setWhys] = useState<Texts>({})
  const [strayCode, setStrayCode] = useState('')
  const { head, codeMarks } = view
  const visits = view.posts.map((post) => ({
    post,
    answer: (answers[post] ?? null) as PostAnswerValue | null, // the strip has no others
    code: codes[post],
    unscanned: whys[post],
  }))
  const unscanned = new Set(leftToScan(head.id, codeMarks, visits))
  const left = view.posts.filter((post) => !answers[post] || unscanned.has(post))
  const scanned = (code: string) => {
    const post = postOfCode(head.id, codeMarks, code)
    setStrayCode(post ? '' : code)
    if (!post) return
    setCodes((was) => ({ ...was, [post]: code }))
    document.getElementById(rowId(post))?.scrollIntoView({ block: 'center' })
  }
  return (
    <>
      {Object.keys(codeMarks).length === 0 ? null : (
        <section
          className="px-4 pt-4 desk:mx-8 desk:max-w-[560px] desk:px-0"
          aria-label={t('code.scan')}
        >
          <Scanner onCode={scanned} />
          <p role="status" className="type-note py-1">
            {strayCode ? t('code.stray', { code: strayCode }) : t('code.scanFirst')}
          </p>
        </section>
      )}
      <KeptForm
        id={`round-${head.id}-${number ?? 'again'}`}
        action={(_previous, formData) => sendRound(head.id, formData)}
        refusedTitle={t('roundRefused')}
        onDone={() => {
          router.push(`/permits/${head.id}/watch`)
          router.refresh()
        }}
        className="flex flex-1 flex-col"
      >
        <PermitFields permitId={head.id} />
        <ul>
          {view.posts.map((post) => (
            <li
              key={post}
              id={rowId(post)}
              className="border-b-2 border-ink px-4 py-4 desk:mx-8 desk:max-w-[560px] desk:px-0"
            >
              <PostAnswer
                post={post}
                code={
                  codeMarks[post] === undefined ? null : (
                    <PostCode
                      post={post}
                      code={codes[post] ?? ''}
                      isOf={postOfCode(head.id, codeMarks, codes[post] ?? '')}
                      why={whys[post] ?? ''}
                      onCode={(code) => setCodes((was) => ({ ...was, [post]: code }))}
                      onWhy={(why) => setWhys((was) => ({ ...was, [post]: why }))}
                    />
                  )
                }
                emergencyWords={view.emergencyWords}
                onAnswered={(answer) => setAnswers((was) => ({ ...was, [post]: answer }))}
              />
            </li>
          ))}
        </ul>
        <div className="thumb border-t-0!">
          {left.length > 0 ? (
            <NotYetButton
              label={t('postsToGo', {
                number: number ?? 0,
                hasNumber: number === null ? 'no' : 'yes',
                count: left.length,
              })}
              reasons={
                <p className="type-note py-2">{t('postsLeft', { posts: left.join(', ') })}</p>
              }
            />
          ) : (
            <SubmitButton>
              {number === null ? t('sendAgain') : t('sendRound', { number })}
            </SubmitButton>
          )}
        </div>
      </KeptForm>
    </>
  )
}

type PostProps = Readonly<{
  post: string
  /** Where the post carries one. */
  code: ReactNode
  emergencyWords: string
  onAnswered: (answer: string) => void
}>

function PostAnswer({ post, code, emergencyWords, onAnswered }: PostProps) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  const [againMs, setAgainMs] = useState(0)
  return (
    <>
      <h2 className="text-[20px] leading-[26px] font-[650]">{post}</h2>
      <p className="mb-3 text-[16px] leading-5">{t('postHow')}</p>
      {code}
      <ThreeWayAnswer
        name={`${POST_FIELD}${post}`}
        label={post}
        isLabelHidden
        onAnswered={(answer) => {
          setAgainMs(Date.now() + LOOK_AGAIN_MS)
          onAnswered(answer)
        }}
        options={[
          { value: 'clear', label: t('answers.clear'), mark: 'done' },
          {
            value: 'warm',
            label: t('answers.warm'),
            mark: 'warm',
            consequence: againMs > 0 ? t('warmThen', { time: formatClock(againMs, prefs) }) : null,
          },
          {
            value: 'smoke',
            label: t('answers.smoke'),
            mark: 'refused',
            consequence: t('smokeFirst', { call: emergencyWords || t('call') }),
            follows: <p className="mt-2 ml-6 type-note text-ink-2">{t('smokeThen')}</p>,
          },
        ]}
      />
    </>
  )
}
