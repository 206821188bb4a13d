using Acquire.Bench.Books;

namespace Acquire.Commands.Books;

/// <summary>What the user names, or else what is at hand; the latter is said on standard error.</summary>
internal static class Chosen
{
    public static ProcessLine Line(Ledger books, string? name, DateTimeOffset at, Surroundings surroundings)
    {
        if (name is not null)
        {
            return BookNames.Line(books, name);
        }

        var line = LastUsed.Of(books, at).Line
            ?? throw new BenchException($"Which line? {Has(books.Lines.Select(l => l.Name), "acquire line add NAME --process c41")}");
        surroundings.Error.Line($"Taken, since none was named: line {line.Name}.");
        return line;
    }

    public static Bottle Bottle(Ledger books, string? name, DateTimeOffset at, Surroundings surroundings)
    {
        if (name is not null)
        {
            return BookNames.Bottle(books, name, at);
        }

        var bottle = LastUsed.AtHand(books, at)
            ?? throw new BenchException($"Which bottle? {Has(books.BottlesInUse(at).Select(b => b.Name), "acquire bottle fill NAME")}");
        surroundings.Error.Line($"Taken, since none was named: bottle {bottle.Name}.");
        return bottle;
    }

    public static string Has(IEnumerable<string> names, string add) =>
        names.ToList() is { Count: > 0 } all
            ? $"In use: {string.Join(", ", all)}."
            : $"The books have none in use at that time. Add one first: {add}";
}
