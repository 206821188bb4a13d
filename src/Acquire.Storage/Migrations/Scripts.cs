using DbUp.Engine;

namespace Acquire.Storage.Migrations;

/// <summary>The migration scripts that are built into the program, in order.</summary>
internal static class Scripts
{
    public static ImmutableArray<SqlScript> All { get; } = Load();

    private static ImmutableArray<SqlScript> Load()
    {
        var assembly = typeof(Scripts).Assembly;
        return
        [
            .. assembly.GetManifestResourceNames()
                .Where(n => n.EndsWith(".sql", StringComparison.Ordinal))
                .Order(StringComparer.Ordinal)
                .Select(n => SqlScript.FromStream(n, assembly.GetManifestResourceStream(n)!)),
        ];
    }
}
