namespace TruthBenchmark;

/// <summary>Plain columns on the console.</summary>
internal static class Table
{
    public static void Title(string title) => Console.WriteLine(title);

    public static void Row(params object[] cells) =>
        Console.WriteLine(
            "  " + string.Join("  ", cells.Select((c, i) => Text(c) is var text && i == 0 ? text.PadRight(44) : Text(c).PadLeft(10))));

    private static string Text(object cell) => cell switch
    {
        double number => number.ToString(Math.Abs(number) >= 100 ? "F1" : "F3", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => cell.ToString() ?? "",
    };
}
