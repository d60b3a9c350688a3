namespace SchoolDrills.Contracts;

/// <summary>
/// Gives the signed-in person's short-lived bearer token, for the few calls a page's browser makes to the API by itself (uploads,
/// which must show their progress and outlive the page's connection).
/// </summary>
public delegate Task<string> AccessTokenSource(CancellationToken ct = default);
