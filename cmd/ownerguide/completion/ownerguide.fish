complete -c ownerguide -f -a '(ownerguide complete -- (commandline -opc)[2..] (commandline -ct))'
