using System.Globalization;

namespace Sparewright.Shop.Store;

/// <summary>Times as they are kept: ISO 8601 in UTC with seven decimals, so that both databases sort them alike.</summary>
internal static class Times
{
    private const string Form = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    public static string Written(DateTimeOffset at) => at.UtcDateTime.ToString(Form, CultureInfo.InvariantCulture);

    /// <summary>Null when it is not written so.</summary>
    public static DateTimeOffset? Read(string written) =>
        DateTimeOffset.TryParseExact(written, Form, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset at) ? at : null;
}
