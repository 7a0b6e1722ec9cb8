"""The Chain: declared links from a situation to every answer, walked by Python and by the phone."""
