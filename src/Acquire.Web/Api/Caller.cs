using Acquire.Bench.Books;
using Acquire.Bench.Trust;
using Acquire.Web.Security;

namespace Acquire.Web.Api;

/// <summary>Who asks, for the records: the name of the token that came with the request, or of whoever runs the service.</summary>
internal sealed record Caller(string Name)
{
    /// <summary>Bound by routes.</summary>
    public static ValueTask<Caller?> BindAsync(HttpContext context) => ValueTask.FromResult<Caller?>(new Caller(context.NameOfUser()));

    public EntryInput Enters(string? at, string? note) => new(Name, at, note);
}

/// <summary>How sure verdicts must be: as the user settled for the data folder, unless a request says so for this once.</summary>
internal sealed class VerdictLevels(string dataFolder)
{
    /// <exception cref="BenchException">It is no level.</exception>
    public double Of(double? said) => Settings.Of(dataFolder).Level(said);
}
