using System.Collections;
using System.Reflection;
using System.Text;

namespace Acquire.Storage.Tests.Support;

/// <summary>
/// Compares whole records, field by field: their own equality stops at arrays. A decimal counts with its zeros, a time as its moment.
/// </summary>
internal static class Deep
{
    public static void Equal(object? expected, object? actual) => Assert.Equal(Text(expected), Text(actual));

    public static string Text(object? value)
    {
        var text = new StringBuilder();
        Append(text, value, "");
        return text.ToString();
    }

    private static void Append(StringBuilder text, object? value, string path)
    {
        switch (value)
        {
            case null or string or Enum or Guid or DateOnly or IFormattable when Leaf(value) is { } leaf:
                _ = text.Append(path).Append(" = ").Append(leaf).Append('\n');
                break;
            case IEnumerable items:
                var i = 0;
                foreach (var item in items)
                {
                    Append(text, item, string.Create(CultureInfo.InvariantCulture, $"{path}[{i++}]"));
                }

                _ = text.Append(path).Append(CultureInfo.InvariantCulture, $" has {i}\n");
                break;
            default:
                _ = text.Append(path).Append(CultureInfo.InvariantCulture, $" is {value!.GetType().Name}\n");
                foreach (var property in value.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance))
                {
                    if (property.GetIndexParameters().Length == 0)
                    {
                        Append(text, property.GetValue(value), $"{path}.{property.Name}");
                    }
                }

                break;
        }
    }

    private static string? Leaf(object? value) => value switch
    {
        null => "null",
        string text => $"\"{text}\"",
        DateTimeOffset time => time.ToUniversalTime().ToString("O", CultureInfo.InvariantCulture),
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        Domain.Densitometry.Density density => density.ToString(),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => null,
    };
}
