# Student's paired t test of the data set "sleep" that ships with R (Student 1908), for paired-gap.json.
x <- with(sleep, t.test(extra[group == 1], extra[group == 2], paired = TRUE))
cat(sprintf('{\n  "software": "%s",\n  "first": [%s],\n  "second": [%s],\n', R.version.string,
  paste(sleep$extra[1:10], collapse = ", "), paste(sleep$extra[11:20], collapse = ", ")))
cat(sprintf('  "mean": %.15g,\n  "standardError": %.15g,\n  "low": %.15g,\n  "high": %.15g,\n  "p": %.15g\n}\n',
  x$estimate, x$stderr, x$conf.int[1], x$conf.int[2], x$p.value))
