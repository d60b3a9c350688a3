namespace SchoolDrills.Cockpit.Sync;

/// <summary>Where sending stands, in words.</summary>
internal static class SendingWords
{
    public static string Of(OutboxState state) =>
        state switch
        {
            OutboxState.Sending => T["Sending…"],
            OutboxState.NoNetwork => T["No network. Everything is kept here and will be sent when there is one."],
            OutboxState.SignedOut => T["Sign in to send your marks."],
            _ => "",
        };
}
