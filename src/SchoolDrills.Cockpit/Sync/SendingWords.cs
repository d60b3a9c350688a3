namespace SchoolDrills.Cockpit.Sync;

/// <summary>Where sending stands, in words.</summary>
internal static class SendingWords
{
    public static string Of(OutboxState state) =>
        state switch
        {
            OutboxState.Sending => "Sending…",
            OutboxState.NoNetwork => "No network: everything is kept here and goes when there is one.",
            OutboxState.SignedOut => "Sign in to send what was noted.",
            _ => "",
        };
}
