-- The audit trail is written once: by grant for the roles that serve, by trigger for everyone, the owner included.

create or replace function public.refuse_audit_change() returns trigger language plpgsql as $$
begin
  raise exception 'The audit trail is append-only.' using errcode = 'insufficient_privilege';
end $$;

do $$ begin
  if to_regclass('public.audit_entries') is not null then
    revoke update, delete, truncate on public.audit_entries from schooldrills_app, schooldrills_jobs;
    drop trigger if exists append_only on public.audit_entries;
    create trigger append_only before update or delete or truncate on public.audit_entries
      for each statement execute function public.refuse_audit_change();
  end if;
end $$;
