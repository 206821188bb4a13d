using Acquire.Bench.Books;
using Acquire.Bench.Trust;

namespace Acquire.Web.Api;

/// <summary>Whose service it is: the user who started it.</summary>
internal sealed record ServiceUser(string Name);

/// <summary>Who asks, for the records: the name that the request has proved, else the service's user.</summary>
internal sealed record Caller(string Name)
{
    /// <summary>Bound by routes.</summary>
    public static ValueTask<Caller?> BindAsync(HttpContext context) => ValueTask.FromResult<Caller?>(new Caller(
        context.User.Identity is { IsAuthenticated: true, Name: { Length: > 0 } name }
            ? name
            : context.RequestServices.GetRequiredService<ServiceUser>().Name));

    public EntryInput Enters(string? at, string? note) => new(Name, at, note);
}

/// <summary>How sure verdicts must be: as the user settled for the data folder, unless a request says so for this once.</summary>
internal sealed class VerdictLevels(string dataFolder)
{
    /// <exception cref="BenchException">It is no level.</exception>
    public double Of(double? said) => Settings.Of(dataFolder).Level(said);
}
