using System.Text.Json;

namespace KillTrials;

/// <summary>What an independent reader finds in a store.</summary>
internal sealed record StoreLook(int Version, string[] Integrity, int ForeignKeys, SessionLook[] Sessions)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web);

    /// <summary>Looks into a store, and demands that it verifies.</summary>
    public static async Task<StoreLook> AtAsync(string database, Tally tally, CancellationToken cancellationToken)
    {
        using var python = VictimProgram.Start("python3", [Script("look.py"), database]);
        var error = python.StandardError.ReadToEndAsync(cancellationToken);
        var look = await python.StandardOutput.ReadToEndAsync(cancellationToken);
        await python.WaitForExitAsync(cancellationToken);
        if (python.ExitCode != 0)
        {
            throw new InvalidOperationException($"{database} cannot be looked into: {await error}");
        }

        var found = JsonSerializer.Deserialize<StoreLook>(look, Options)!;
        tally.Demand(found.Integrity is ["ok"], $"{database} is damaged: {string.Join("; ", found.Integrity)}");
        tally.Demand(found.ForeignKeys == 0, $"{database} has {found.ForeignKeys} rows whose ties are broken");
        return found;
    }

    public static string Script(string name) => Path.Combine(AppContext.BaseDirectory, "Scripts", name);
}

/// <summary>One session of it.</summary>
/// <param name="Id">The session.</param>
/// <param name="End">How it ended; null when it has no end.</param>
/// <param name="Lines">The lines that are readings, as stored.</param>
/// <param name="Cut">How many other lines it has.</param>
/// <param name="Journal">The whole lines that its journal's bytes amount to.</param>
/// <param name="Strips">The lines of each strip that it gave.</param>
/// <param name="Booked">How many of them the books count as film through the bottle, and how many as taken from the lot's stock.</param>
internal sealed record SessionLook(string Id, string? End, string[] Lines, int Cut, string[] Journal, string[][] Strips, int[] Booked);
