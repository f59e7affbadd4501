import { spawn } from 'node:child_process'

// The three checks side by side, for each keeps one core busy; what each says is printed in one piece when it is through.
const CHECKS = ['check:lint', 'check:types', 'check:format']

const run = (name) =>
  new Promise((resolve) => {
    const child = spawn('npm', ['run', '--silent', name], { stdio: ['ignore', 'pipe', 'pipe'] })
    let said = ''
    child.stdout.on('data', (part) => (said += part))
    child.stderr.on('data', (part) => (said += part))
    child.on('close', (code) => {
      process.stdout.write(code === 0 ? `${name} is well\n` : `${said}\n${name} failed\n`)
      resolve(code === 0)
    })
  })

const well = await Promise.all(CHECKS.map(run))
if (well.includes(false)) process.exitCode = 1
