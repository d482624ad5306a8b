"""The page for instructors: the functions of `pipeline` behind a server on this machine, over a course folder.

    commands/desk.py ── serve.py     a socket on 127.0.0.1, the browser, the end
                        gate.py      who may ask: host, origin, the first link's token, the cookie; limits; headers
                        app.py       routes of the frame and of all rooms; what becomes of errors
    Desk (desk.py)      the course's folder, jobs, what was dropped; kept as long as the server runs
      jobs.py           long work, a process each (write/background.py): progress, cancel; survives a reload
      watch.py          the state number: it grows when a file of the course or a job has changed
      places.py         names from outside → paths inside the course, and nowhere else
    Call (calls.py)     one request: desk, fields, files dropped. `get` and `post` make routes of plain functions
      answers.py        `page`, `fragment`, `go`; pages/*.html by Jinja2 with autoescape; assets/ as they are
    standing.py         what there is in the course: sets, what was built and marked, when; the next sensible step
    rooms/              one module a room, one line each in rooms/__init__.py
    rooms/papers.py     papers typed one at a time: pipeline/typed_papers judges them and keeps them in returned/NAME/
    set_files/, template_files/
                        a file as its page shows it, what the page wants of it, its new text with the comments kept
    columns_shown.py    "Is this right?": the columns of a table that was dropped, for class lists and for answers
    marking/            what came back of a set, as it is marked just now; what was decided, step by step

**How a room is added.** A module in `rooms/` with a `Room` (room.py): its step of the job ("prepare", "print" or
"mark"), its name in the address, its title, a sentence about it, and its routes. A route is `get("/mark/{name:path}",
function)` or `post(…)`; the function takes a `Call`, runs in a thread, and gives `page(call, "mark.html", …)`. What it
raises of ProblemgenError is shown as the command line tells it, all faults at once (told.html): it catches nothing.
Files dropped have a limit by the beginning of their address (`Room.uploads`); elsewhere a request is 1 MB at most.
Then the room's line in `ROOMS`, its page in `pages/` (it extends frame.html), and a module in `assets/`, if it needs
one (`{% block modules %}`). Nothing inline: the policy refuses it.

**Pages.** A form with `data-send` is sent by assets/send.js, and its answer is `go(address)` or a fragment that is put
into the form's element `.told`. An element with `data-live` and an id is brought up to date, wherever it is shown, when
the state number grows and the server says something else of it (assets/live.js): several tabs agree by that alone.
Words are `_("…")` and `ngettext` in pages as in code, with `.format(…)` behind.

**Long work.** `call.desk.start(title, about, place, function, *arguments)`: a function of a module, with arguments that
can be pickled, and `progress` as its last one. It runs in the course's folder. `about` is by what it is found again:
`jobs.about("build/week-1")`. What it gives is `job.result`. `{{ job_view(job) }}` of jobs.html shows any job.

**Files.** `/files/NAME` gives a file of the course: to be saved, a PDF or a picture to be looked at, and with `?open=1`
a page, in a box in which nothing runs.

Nothing here opens a course's file to write it: that is done by `pipeline`, or through `write.files.Staging`. What can
be undone goes through `write.steps.Steps`: the last step first, and never over what somebody has changed since.
"""
