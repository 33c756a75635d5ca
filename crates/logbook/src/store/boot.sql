SELECT first, anchor FROM boot WHERE log = :log AND boot = :boot
