"""The pages and the described API of one works, served to this machine. It knows HTTP, cookies, templates and static
files. It refuses to judge, to word a verdict or to decide what may be done next: that is asked of the desk."""
