namespace SchoolDrills.Contracts;

/// <summary>
/// Gives the signed-in person's short-lived bearer token, for the few calls a page's browser makes to the API by itself (uploads,
/// which must show their progress and outlive the page's connection).
/// </summary>
public delegate Task<string> AccessTokenSource(CancellationToken ct = default);

/// <summary>What the second form of signing in has to ask, after a right password; null once it is too late for it.</summary>
public delegate SignInStep? SignInStepSource();

/// <summary>What is still asked before somebody is signed in.</summary>
/// <param name="Schools">To choose from, where there are several.</param>
/// <param name="Code">Whether an account wants a code as well.</param>
public sealed record SignInStep(IReadOnlyList<SchoolChoice> Schools, bool Code);
