#compdef ownerguide
_ownerguide() {
  local line
  local -a found shown folders
  while IFS= read -r line; do
    if [[ ${line%%$'\t'*} == */ ]]; then folders+=("$line"); continue; fi
    found+=("${line%%$'\t'*}")
    shown+=("${line/$'\t'/  }")
  done < <("${words[1]}" complete -- "${(@)words[2,CURRENT]}" 2>/dev/null)
  compadd -U -d shown -a found
  compadd -U -S '' -a folders
}
compdef _ownerguide ownerguide
