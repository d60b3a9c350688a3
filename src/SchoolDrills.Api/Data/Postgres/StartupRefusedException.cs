namespace SchoolDrills.Api.Data.Postgres;

/// <summary>The host cannot start for a reason an operator can put right; the message is one sentence that says how.</summary>
public sealed class StartupRefusedException : Exception
{
    public StartupRefusedException(string message)
        : base(message) { }

    public StartupRefusedException(string message, Exception inner)
        : base(message, inner) { }
}
